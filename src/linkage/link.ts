import { civilDate, clockTime, epochDay, readMoment } from '../fhir/dates.ts'
import { asText, type Json } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import type { Colonoscopy, LinkedColonoscopy } from '../record/colonoscopy.ts'
import { fields } from '../record/fields.ts'
import { isWord } from '../record/words.ts'
import { readAccessory } from './accessory.ts'
import { readAdvice } from './advice.ts'
import { readAdviceAfterPathology } from './advice-after-pathology.ts'
import { attribute } from './attribution.ts'
import { readBiopsies } from './biopsies.ts'
import { readCancerWithinHalfAYear } from './cancer-within-half-a-year.ts'
import { readComfort } from './comfort.ts'
import type { LeftOut, LinkContext } from './context.ts'
import { readCourse } from './course.ts'
import { readDeath } from './death.ts'
import { devicesUsed } from './devices.ts'
import { readEquipment } from './equipment.ts'
import { eventFacts } from './event-facts.ts'
import { assignEvents } from './events.ts'
import { type Examination, findExaminations, sawFeed } from './examinations.ts'
import type { Events } from './found-events.ts'
import { gather } from './gather.ts'
import { isElsewhere } from './gather-pathology.ts'
import { readHistology } from './histology.ts'
import { readHistory } from './history.ts'
import { Ladder } from './ladder.ts'
import { readLastColonoscopy } from './last-colonoscopy.ts'
import { readLaterCancer } from './later-cancer.ts'
import { readMedication } from './medication.ts'
import { isPolypNumberOpen, pathologyFacts, polypsInPathology } from './pathology.ts'
import { readPatientExperience } from './patient-experience.ts'
import { type PatientKey, patientKeys, patientRecords, unheardKinds } from './patients.ts'
import { type PersonKey, personKeys } from './person-key.ts'
import { polypFacts, tissueTaken } from './polyp-facts.ts'
import { findPolyps, noFindings, type PolypFindings } from './polyps.ts'
import { readPreparation } from './preparation.ts'
import { type Reading, readingOf } from './reading.ts'
import { readReasons } from './reasons.ts'
import { surveyShapes } from './survey-shapes.ts'
import { surveyStrays } from './survey-strays.ts'
import { surveyUnit } from './survey-unit.ts'
import { readTimes } from './times.ts'
import { assignVisits, type Visits, visitFacts } from './visits.ts'
import type { WindowResources } from './window-resources.ts'

export interface LinkedWindow {
  readonly colonoscopies: readonly LinkedColonoscopy[]
  readonly leftOut: readonly LeftOut[]
  /** Key of every practitioner met, by `Practitioner/id`. */
  readonly people: ReadonlyMap<string, string>
}

/**
 * Links one window's resources into one record per colonoscopy that began in it. Pure: the same resources in any order, and
 * any of them twice, give the same records.
 */
export function linkWindow(delivered: readonly unknown[], context: LinkContext): LinkedWindow {
  const { source, asOf, survey } = context
  const reading = readingOf(delivered, context)
  const { resources } = reading
  if (survey) surveyShapes(resources, survey)
  const patientKey = patientKeys(resources)
  const personKey = personKeys(resources, source)
  const { examinations, ladder, leftOut } = gatherWhatTookPlace(reading, patientKey, context)
  if (survey) surveyStrays(reading, ladder, patientKey, context, survey)

  // Rivals are read too; what does not fit in them is for the window that owns them to take down.
  const unsurveyed: Reading = { ...reading, survey: undefined }
  const readingFor = (examination: Examination) => readingOfOne(examination, examination.owned ? reading : unsurveyed)
  const findings = new Map<Examination, PolypFindings>()
  const tissue = new Map<Examination, boolean | undefined>()
  for (const examination of examinations) {
    const polyps = findPolyps(examination, readingFor(examination))
    findings.set(examination, polyps)
    tissue.set(examination, tissueTaken(examination, polyps, readingFor(examination)))
  }
  const couldBleed = (examination: Examination) => tissue.get(examination) !== false
  const { events, leftOut: eventsLeftOut } = assignEvents(reading, ladder, patientKey, couldBleed)
  const visits = assignVisits(reading, ladder, patientKey)
  const byPatient = groupByPatient(reading, patientKey)
  const recordsOf = patientRecords(resources, patientKey)

  const asOfDates = new Map<string, string>()
  const asOfDate = (zone: string): string => {
    const date = asOfDates.get(zone) ?? civilDate(asOf, zone)
    asOfDates.set(zone, date)
    return date
  }
  const colonoscopies: LinkedColonoscopy[] = []
  for (const examination of examinations) {
    if (!examination.owned) continue
    const record = toRecord(examination, {
      reading: readingFor(examination),
      findings: findings.get(examination) ?? noFindings,
      tissue: tissue.get(examination),
      events: events.get(examination),
      visits: visits.get(examination),
      conditions: byPatient.conditions.get(examination.patient) ?? [],
      resections: byPatient.resections.get(examination.patient) ?? [],
      colonoscopies: byPatient.colonoscopies.get(examination.patient) ?? [],
      orders: byPatient.orders.get(examination.patient) ?? [],
      patient: resources.at(examination.patient),
      patientRecords: recordsOf(examination.patient),
      asOfDate: asOfDate(examination.zone),
      personKey,
    })
    colonoscopies.push({ record, date: examination.date, seen: examination.seen })
    if (survey && examination.trail) survey.examinations.push({ record, trail: examination.trail })
  }
  return {
    colonoscopies,
    leftOut: [...leftOut, ...eventsLeftOut],
    people: peopleOf(resources, personKey),
  }
}

/** Silence about a kind means nothing in an examination to which something of that kind may belong. */
function readingOfOne({ openKinds }: Examination, reading: Reading): Reading {
  if (openKinds.length === 0) return reading
  return { ...reading, complete: (kind) => reading.complete(kind) && !openKinds.includes(kind) }
}

/**
 * The examinations that took place, with everything that belongs to them. One that turns out never to have begun is no rival of
 * what did, and nothing belongs to it: so it is found out first, without a survey, and all is gathered once more without it.
 */
function gatherWhatTookPlace(reading: Reading, patientKey: PatientKey, context: LinkContext) {
  const { survey, ...quietContext } = context
  const quiet: Reading = { ...reading, survey: undefined }
  const gathered = gatherExaminations(quiet, patientKey, quietContext, new Set())
  const neverInserted = new Set<string>()
  for (const examination of gathered.examinations)
    if (mayNeverHaveBegun(examination, quiet) && readCourse(examination, quiet).neverInserted)
      neverInserted.add(examination.key)
  if (survey === undefined && neverInserted.size === 0) return gathered
  return gatherExaminations(reading, patientKey, context, neverInserted)
}

/** Whether anything says that the instrument was not inserted; whether that is believed is for the reader of the course. */
const mayNeverHaveBegun = ({ all, observations }: Examination, { codes }: Reading): boolean =>
  all.some(({ statusReason }) => statusReason !== undefined && codes.fact(statusReason) === 'not-inserted') ||
  observations.course.some(({ holder }) => codes.fact(holder.valueCodeableConcept) === 'not-inserted')

function gatherExaminations(
  reading: Reading,
  patientKey: PatientKey,
  context: LinkContext,
  neverInserted: ReadonlySet<string>,
) {
  const { examinations: found, leftOut } = findExaminations(reading, patientKey, context)
  const examinations = neverInserted.size === 0 ? found : found.filter(({ key }) => !neverInserted.has(key))
  const none = found
    .filter(({ key, owned }) => owned && neverInserted.has(key))
    .map(({ key }): LeftOut => ({ reference: key, reason: 'never inserted' }))
  const ladder = new Ladder(examinations)
  const ambiguous = gather(reading, ladder, patientKey)
  for (const { patient, openKinds } of examinations) openKinds.push(...unheardKinds(patient, reading.resources))
  return { examinations, ladder, leftOut: [...leftOut, ...none, ...ambiguous] }
}

interface Parts {
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

function toRecord(examination: Examination, parts: Parts): Colonoscopy {
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

/** What the facts rest on that need no reader of their own. */
function noteOwn(
  examination: Examination,
  facts: {
    readonly age: number | undefined
    readonly sex: Colonoscopy['sex']
    readonly patient: Json | undefined
  },
): void {
  const { trail, lead } = examination
  if (trail === undefined) return
  const { age, sex, patient } = facts
  const performed = lead.performedPeriod === undefined ? 'Procedure.performedDateTime' : 'Procedure.performedPeriod'
  trail.note('procedure', lead, 'own element', 'Procedure.id')
  trail.note('examinationDate', lead, 'own element', performed)
  if (monthOf(examination) !== undefined) trail.note('examinationMonth', lead, 'own element', performed)
  if (examination.start !== undefined) trail.note('startTime', lead, 'own element', performed)
  if (age !== undefined) trail.note('age', patient, 'direct reference', 'Patient.birthDate')
  else if (patient?.birthDate !== undefined) trail.cannotRead('age', patient, 'Patient.birthDate')
  if (sex !== undefined) trail.note('sex', patient, 'direct reference', 'Patient.gender')
  else if (patient?.gender !== undefined) trail.cannotRead('sex', patient, 'Patient.gender')
}

/** Month of the calendar on which all days lie that the examination may have begun on. */
const monthOf = ({ span }: Examination): string | undefined => {
  const month = span.first.slice(0, 7)
  return month === span.last.slice(0, 7) ? month : undefined
}

const sexOf = (patient: Json | undefined): Colonoscopy['sex'] => {
  const sex = asText(patient?.gender)
  return isWord(sex, fields.sex.values) ? sex : undefined
}

function settingOf(examination: Examination, { codes, survey }: Reading): Colonoscopy['setting'] {
  const { stays, encounters, trail, patient, lead } = examination
  if (stays.length < encounters.length) survey?.deadEnd('Procedure.encounter', lead)
  for (const encounter of stays) {
    const word = codes.wordOfCoding(encounter.class, 'setting')
    if (isWord(word, fields.setting.values)) {
      trail?.note('setting', encounter, 'direct reference', 'Encounter.class')
      return word
    }
    survey?.missed('Encounter.class', encounter.class, patient)
  }
  return undefined
}

/** Whole years on the date; undefined when the birth date is too coarse to decide, or the examination's own is. */
function ageOn({ span, date }: Examination, patient: Json | undefined): number | undefined {
  const born = asText(patient?.birthDate)
  // A birth date has no time of day, and is a day, a month or a year of the calendar.
  if (born === undefined || born.length > 10 || readMoment(born, 'UTC') === undefined) return undefined
  const years = (birth: string, on: string) => {
    const age = Number(on.slice(0, 4)) - Number(birth.slice(0, 4))
    return on.slice(5) < birth.slice(5) ? age - 1 : age
  }
  const earliest = born.length === 10 ? born : born.length === 7 ? `${born}-01` : `${born}-01-01`
  const latest = born.length === 10 ? born : born.length === 7 ? `${born}-31` : `${born}-12-31`
  const age = years(earliest, span.last)
  return age === years(latest, span.first) && age >= 0 && epochDay(date) >= epochDay(earliest) ? age : undefined
}

function peopleOf(resources: WindowResources, personKey: PersonKey): ReadonlyMap<string, string> {
  const people = new Map<string, string>()
  for (const practitioner of resources.ofType('Practitioner')) {
    const reference = ownKey(practitioner)
    const key = personKey({ reference })
    if (reference !== undefined && key !== undefined) people.set(reference, key)
  }
  return people
}

/** What is told of patients and not of an examination, by patient. */
function groupByPatient({ resources, procedures }: Reading, patientKey: PatientKey) {
  const resections: Json[] = []
  const colonoscopies: Json[] = []
  for (const { resource, code } of procedures) {
    if (code.sets.has('colonoscopy')) colonoscopies.push(resource)
    if (code.sets.has('earlier-resection') || code.sets.has('pelvic-surgery-or-radiotherapy')) resections.push(resource)
  }
  return {
    conditions: byPatient(resources.ofType('Condition'), patientKey),
    resections: byPatient(resections, patientKey),
    colonoscopies: byPatient(colonoscopies, patientKey),
    orders: byPatient(resources.ofType('ServiceRequest'), patientKey),
  }
}

function byPatient(list: readonly Json[], patientKey: PatientKey): Map<string, Json[]> {
  const map = new Map<string, Json[]>()
  for (const resource of list) {
    const patient = patientKey(resource.subject)
    if (patient === undefined) continue
    const held = map.get(patient)
    if (held) held.push(resource)
    else map.set(patient, [resource])
  }
  return map
}
