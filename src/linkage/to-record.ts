import { clockTime } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { readAccessory } from './accessory.ts'
import { readAdvice } from './advice.ts'
import { readAdviceAfterPathology } from './advice-after-pathology.ts'
import { attribute } from './attribution.ts'
import { readBiopsies } from './biopsies.ts'
import { readCancerWithinHalfAYear } from './cancer-within-half-a-year.ts'
import { readComfort } from './comfort.ts'
import { readCourse } from './course.ts'
import { readDeath } from './death.ts'
import { devicesUsed } from './devices.ts'
import { readEquipment } from './equipment.ts'
import { eventFacts } from './event-facts.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Events } from './found-events.ts'
import { isElsewhere } from './gather-pathology.ts'
import { readHistology } from './histology.ts'
import { readHistory } from './history.ts'
import { readLastColonoscopy } from './last-colonoscopy.ts'
import { readLaterCancer } from './later-cancer.ts'
import { readMedication } from './medication.ts'
import { isPolypNumberOpen, pathologyFacts, polypsInPathology } from './pathology.ts'
import { readPatientExperience } from './patient-experience.ts'
import type { PersonKey } from './person-key.ts'
import { polypFacts } from './polyp-facts.ts'
import type { PolypFindings } from './polyps.ts'
import { readPreparation } from './preparation.ts'
import type { Reading } from './reading.ts'
import { readReasons } from './reasons.ts'
import { surveyUnit } from './survey-unit.ts'
import { readTimes } from './times.ts'
import { type Visits, visitFacts } from './visits.ts'
import { ageOn, monthOf, noteOwn, settingOf, sexOf } from './who-and-when.ts'

export interface Parts {
  readonly reading: Reading
  readonly findings: PolypFindings
  readonly tissue: boolean | undefined
  readonly events: Events | undefined
  readonly visits: Visits | undefined
  readonly conditions: readonly Json[]
  /** Resections, pelvic operations and radiotherapy among the patient's procedures. */
  readonly resections: readonly Json[]
  /** Colonoscopies of the patient, those of this examination among them. */
  readonly colonoscopies: readonly Json[]
  /** Orders of the patient. */
  readonly orders: readonly Json[]
  readonly patient: Json | undefined
  /** That record, and those that it replaced. */
  readonly patientRecords: readonly Json[]
  readonly personKey: PersonKey
  /** Civil date of the as-of instant in the unit's zone. */
  readonly asOfDate: string
}

export function toRecord(examination: Examination, parts: Parts): Colonoscopy {
  const { reading, findings, conditions, patient } = parts
  const course = readCourse(examination, reading)
  const { resources, codes, source, complete } = reading
  const { trail } = examination
  const histology = readHistology(examination, reading, (key) => isElsewhere(resources.at(key), codes))
  const { polyps, known, unnamedRemovals, knownPots, impliedRemovals } = findings
  const inPathology =
    polyps.length + unnamedRemovals > 0 ? 0 : polypsInPathology(histology, knownPots, findings.knownWithoutPot)
  const told = polyps.length + unnamedRemovals + inPathology
  if (told + impliedRemovals + known.length > 0) sawFeed(examination, 'polyps')
  if (examination.specimens.length > 0 || examination.pathologyReports.length > 0) sawFeed(examination, 'pathology')

  // No polyp is a fact only where the feed is complete and the examination's own report is not still open.
  // Where the examination's own code says that a polyp was removed, there was at least one, and nobody says how many.
  // So it is where something may have been removed: nothing says whether it was done.
  const mayHaveDone = examination.openKinds.includes('polyps')
  const silent = complete('polyps') && course.report !== 'preliminary' && impliedRemovals === 0
  const isOpen =
    findings.unreadSightings > 0 || (inPathology > 0 && isPolypNumberOpen(examination, histology, knownPots))
  const polypCount = isOpen ? undefined : told > 0 ? told : silent ? 0 : undefined
  if (trail) noteCount(examination, { polypCount, inPathology, report: course.report, findings })

  const pathology = pathologyFacts(examination, findings, histology, {
    asOfDate: parts.asOfDate,
    lagDays: source.pathologyLagDays,
    feedComplete: complete('pathology') && course.report !== 'preliminary',
    polypCount,
    inPathology,
  })
  const who = attribute(examination, reading, parts.personKey)
  const last = readLastColonoscopy(examination, parts.colonoscopies, reading)
  const why = readReasons(examination, reading, known.length > 0, last.wasStopped)
  const history = readHistory(examination, conditions, parts.resections, reading)
  const times = readTimes(examination, reading)
  const preparation = readPreparation(examination, history, course, reading)
  const comfort = readComfort(examination, reading, who.operator, parts.personKey)
  const sedation = readMedication(examination, who.anaesthetistLed, course.report, reading)
  const devices = devicesUsed(examination, reading)
  const equipment = readEquipment(examination, devices, reading)
  const accessory = readAccessory(examination, devices, reading)
  const found = polypFacts(examination, findings, polypCount, reading)
  const isPolypsTold = complete('polyps') && course.report !== 'preliminary' && !isOpen
  const biopsies = readBiopsies(examination, findings, histology, isPolypsTold, reading)
  const event = eventFacts(parts.events, complete('events'), trail)
  const visit = visitFacts(parts.visits, complete('visits'), trail)
  const death = readDeath(examination, parts.patientRecords, reading)
  const { facts: advice, latest } = readAdvice(examination, parts.orders, reading)
  const later = readLaterCancer(examination, conditions, pathology.cancerCount, reading)
  const cancerContext = { findings, cancerCount: pathology.cancerCount, asOfDate: parts.asOfDate }
  const tissue =
    parts.tissue || inPathology > 0 || (course.report === 'preliminary' || mayHaveDone ? undefined : parts.tissue)
  if (tissue && times.withdrawalMinutes !== undefined)
    trail?.doubt('withdrawal time of an examination in which tissue was taken', examination.lead)
  const { survey } = reading
  if (survey) {
    if (patient === undefined) survey.deadEnd('Procedure.subject', examination.lead)
    if (examination.unit === undefined) surveyUnit(examination, source, survey)
  }
  const age = ageOn(examination, patient)
  const sex = sexOf(patient)
  const setting = settingOf(examination, reading)
  noteOwn(examination, { age, sex, patient })

  // One literal with every field: records of one shape are what makes the criteria fast.
  return {
    procedure: examination.key,
    source: source.id,
    unit: examination.unit?.id,
    examinationDate: examination.span.first === examination.span.last ? examination.date : undefined,
    examinationMonth: monthOf(examination),
    startTime: examination.start === undefined ? undefined : clockTime(examination.start, examination.zone),
    age,
    sex,
    operator: who.operator,
    operatorRole: who.operatorRole,
    supervisor: who.supervisor,
    supervisorInRoom: who.supervisorInRoom,
    takeover: who.takeover,
    setting,
    reasonCount: why.reasonCount,
    reasons: why.reasons,
    referralReason: why.referralReason,
    referredForKnownLesion: why.referredForKnownLesion,
    knownLesion: why.knownLesion,
    chronicDiarrhoea: why.chronicDiarrhoea,
    daysFromPositiveTest: why.daysFromPositiveTest,
    afterIncompleteExamination: why.afterIncompleteExamination,
    intent: course.intent,
    inflammatoryBowelDisease: history.inflammatoryBowelDisease,
    inflammatoryBowelDiseaseActivity: history.inflammatoryBowelDiseaseActivity,
    inflammatoryBowelDiseaseSeen: history.inflammatoryBowelDiseaseSeen,
    hereditarySyndrome: history.hereditarySyndrome,
    earlierResection: history.earlierResection,
    resectedPart: history.resectedPart,
    strictureKnown: history.strictureKnown,
    severeDiverticulosis: history.severeDiverticulosis,
    pelvicSurgeryOrRadiotherapy: history.pelvicSurgeryOrRadiotherapy,
    earlierColorectalCancer: history.earlierColorectalCancer,
    antithrombotics: history.antithrombotics,
    serratedPolyposis: history.serratedPolyposis,
    familyHistoryOfColorectalCancer: history.familyHistoryOfColorectalCancer,
    earlierAdenoma: history.earlierAdenoma,
    monthsSinceLastColonoscopy: last.facts.monthsSinceLastColonoscopy,
    lastExaminationInadequate: last.facts.lastExaminationInadequate,
    report: course.report,
    completion: course.completion,
    stopReason: course.stopReason,
    extent: course.extent,
    extentEvidence: course.extentEvidence,
    caecumReached: course.caecumReached,
    completionPhotographed: course.completionPhotographed,
    landmarkPhotographCount: course.landmarkPhotographCount,
    impassableStricture: course.impassableStricture,
    ileum: course.ileum,
    retroflexion: course.retroflexion,
    insertionMinutes: times.insertionMinutes,
    withdrawalMinutes: times.withdrawalMinutes,
    tissueTakenOrTreated: tissue,
    tattooPlaced: found.tattooPlaced,
    instrument: equipment.instrument,
    instrumentExchanged: equipment.instrumentExchanged,
    insufflation: equipment.insufflation,
    dye: equipment.dye,
    computerAidedDetection: equipment.computerAidedDetection,
    preparationScale: preparation.preparationScale,
    preparationRight: preparation.preparationRight,
    preparationTransverse: preparation.preparationTransverse,
    preparationLeft: preparation.preparationLeft,
    rightSegmentPresent: preparation.rightSegmentPresent,
    transverseSegmentPresent: preparation.transverseSegmentPresent,
    leftSegmentPresent: preparation.leftSegmentPresent,
    preparationTotal: preparation.preparationTotal,
    segmentsAllAtLeast2: preparation.segmentsAllAtLeast2,
    preparationGrade: preparation.preparationGrade,
    preparationLevel: preparation.preparationLevel,
    stoppedForPreparation: preparation.stoppedForPreparation,
    comfortScale: comfort.comfortScale,
    comfortScore: comfort.comfortScore,
    comfortScorer: comfort.comfortScorer,
    comfortOneToFive: comfort.comfortOneToFive,
    patientExperience: readPatientExperience(examination, reading),
    sedated: sedation.sedated,
    midazolamMilligrams: sedation.midazolamMilligrams,
    fentanylMicrograms: sedation.fentanylMicrograms,
    pethidineMilligrams: sedation.pethidineMilligrams,
    propofolMilligrams: sedation.propofolMilligrams,
    nitrousOxide: sedation.nitrousOxide,
    antispasmodic: sedation.antispasmodic,
    reversalAgent: sedation.reversalAgent,
    anaesthetistLed: who.anaesthetistLed,
    attachment: accessory.attachment,
    attachmentKind: accessory.attachmentKind,
    attachmentOutcome: accessory.attachmentOutcome,
    attachmentRemovedBeforeCaecum: accessory.attachmentRemovedBeforeCaecum,
    attachmentRemovalReason: accessory.attachmentRemovalReason,
    attachmentReinserted: accessory.attachmentReinserted,
    mucosalInjury: accessory.mucosalInjury,
    mucosalInjurySite: accessory.mucosalInjurySite,
    mucosalInjuryTreated: accessory.mucosalInjuryTreated,
    polypCount,
    polyps: polyps.length === polypCount ? polyps.map(({ polyp }) => polyp) : undefined,
    knownLesionCount: found.knownLesionCount,
    polypRemoved: mayHaveDone ? found.polypRemoved || undefined : found.polypRemoved,
    polypsLeftCount: found.polypsLeftCount,
    polypsNotFoundAgainCount: found.polypsNotFoundAgainCount,
    polypsWithoutObtainableHistology: found.polypsWithoutObtainableHistology,
    biopsiesRight: biopsies.biopsiesRight,
    biopsiesRightAtLeast: biopsies.biopsiesRightAtLeast,
    biopsiesLeft: biopsies.biopsiesLeft,
    biopsiesLeftAtLeast: biopsies.biopsiesLeftAtLeast,
    biopsiesRectum: biopsies.biopsiesRectum,
    biopsiesRectumAtLeast: biopsies.biopsiesRectumAtLeast,
    pathology: pathology.pathology,
    histologySource: pathology.histologySource,
    adenomaFound: pathology.adenomaFound,
    traditionalSerratedFound: pathology.traditionalSerratedFound,
    sessileSerratedFound: pathology.sessileSerratedFound,
    cancerFound: pathology.cancerFound,
    adenomaCount: pathology.adenomaCount,
    adenomaCountLower: pathology.adenomaCountLower,
    adenomaCountUpper: pathology.adenomaCountUpper,
    traditionalSerratedCount: pathology.traditionalSerratedCount,
    sessileSerratedCount: pathology.sessileSerratedCount,
    hyperplasticCount: pathology.hyperplasticCount,
    cancerCount: pathology.cancerCount,
    otherHistologyCount: pathology.otherHistologyCount,
    largestAdenomaMillimetres: pathology.largestAdenomaMillimetres,
    villousAdenomaFound: pathology.villousAdenomaFound,
    highGradeDysplasiaFound: pathology.highGradeDysplasiaFound,
    colitisDysplasiaFound: pathology.colitisDysplasiaFound,
    eventCount: event.eventCount,
    events: event.events,
    perforation: event.perforation,
    perforationDay: event.perforationDay,
    perforationSeverity: event.perforationSeverity,
    bleeding: event.bleeding,
    bleedingDay: event.bleedingDay,
    bleedingSeverity: event.bleedingSeverity,
    cardiopulmonaryEvent: event.cardiopulmonaryEvent,
    cardiopulmonaryEventDay: event.cardiopulmonaryEventDay,
    hospitalVisitCount: visit.hospitalVisitCount,
    visits: visit.visits,
    unplannedVisit: visit.unplannedVisit,
    unplannedVisitDay: visit.unplannedVisitDay,
    death: death.death,
    deathDay: death.deathDay,
    advice: advice.advice,
    advisedIntervalMonths: advice.advisedIntervalMonths,
    adviceAfterPathology: readAdviceAfterPathology(
      examination,
      { advice: advice.advice, latest },
      pathology.pathology,
      histology,
    ),
    cancerWithinSixMonths: readCancerWithinHalfAYear(examination, conditions, cancerContext, reading),
    laterColorectalCancer: later.laterColorectalCancer,
    laterColorectalCancerDay: later.laterColorectalCancerDay,
  }
}

/** What the number of polyps rests on. */
function noteCount(
  { trail, all }: Examination,
  told: {
    readonly polypCount: number | undefined
    readonly inPathology: number
    readonly report: Colonoscopy['report']
    readonly findings: PolypFindings
  },
): void {
  const { polypCount, inPathology, report, findings } = told
  if (polypCount === 0)
    trail?.note(
      'polypCount',
      all[0],
      report === 'final'
        ? 'final report in a complete feed'
        : 'completed examination without a report, in a complete feed',
      report === 'final' ? 'DiagnosticReport.status' : 'Procedure.status',
    )
  else if (inPathology > 0) trail?.note('polypCount', undefined, 'inferred from pathology', 'DiagnosticReport.result')
  else if (polypCount !== undefined && findings.polyps.length === 0)
    trail?.note('polypCount', undefined, 'inferred from the procedure code', 'Procedure.code')
}
