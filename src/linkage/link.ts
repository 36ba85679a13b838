import { civilDate, epochDay } from '../fhir/dates.ts'
import { asText, type Json } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import { attribute, type PersonKey, personKeys } from './attribution.ts'
import type { Colonoscopy, LinkedColonoscopy } from './colonoscopy.ts'
import type { LeftOut, LinkContext, Resources } from './context.ts'
import { readCourse } from './course.ts'
import { assignEvents, type EventDay, type Events } from './events.ts'
import { type Examination, findExaminations, note, sawFeed } from './examinations.ts'
import { fields } from './fields.ts'
import { gather, isElsewhere } from './gather.ts'
import { readHistology } from './histology.ts'
import { readHistory } from './history.ts'
import { Ladder } from './ladder.ts'
import { readMeasurements } from './measurements.ts'
import { pathologyFacts, polypsInPathology } from './pathology.ts'
import { patientKeys } from './patients.ts'
import { canHaveHistology, findPolyps, isWord, noFindings, type PolypFindings } from './polyps.ts'
import { readPreparation } from './preparation.ts'
import { readReasons } from './reasons.ts'
import { WindowResources } from './window-resources.ts'

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
  const resources = new WindowResources(delivered)
  const { examinations, leftOut } = findExaminations(resources, context)
  const patientKey = patientKeys(resources)
  const personKey = personKeys(resources, context.source)
  const ladder = new Ladder(examinations)
  const ambiguous = gather(resources, ladder, patientKey, context)
  const conditionsOf = byPatient(resources.ofType('Condition'), patientKey)
  const resectionsOf = byPatient(
    resources.ofType('Procedure').filter(({ code }) => context.codes.in(code, 'earlier-resection')),
    patientKey,
  )

  const findings = new Map<Examination, PolypFindings>()
  for (const examination of examinations) findings.set(examination, findPolyps(examination, context.codes))
  const tissue = new Map<Examination, boolean | undefined>()
  for (const examination of examinations) tissue.set(examination, tissueTaken(examination, findings, context))
  const couldBleed = (examination: Examination) => tissue.get(examination) !== false
  const { events, leftOut: eventsLeftOut } = assignEvents(resources, ladder, patientKey, couldBleed, context)

  const asOfDates = new Map<string, string>()
  const asOfDate = (zone: string): string => {
    const date = asOfDates.get(zone) ?? civilDate(context.asOf, zone)
    asOfDates.set(zone, date)
    return date
  }
  const colonoscopies = examinations
    .filter(({ owned }) => owned)
    .map((examination) =>
      toRecord(examination, {
        resources,
        context,
        findings: findings.get(examination) ?? noFindings,
        tissue: tissue.get(examination),
        events: events.get(examination),
        conditions: conditionsOf.get(examination.patient) ?? [],
        resections: resectionsOf.get(examination.patient) ?? [],
        patient: resources.at(examination.patient),
        asOfDate,
        personKey,
      }),
    )
  const people = new Map<string, string>()
  for (const practitioner of resources.ofType('Practitioner')) {
    const reference = ownKey(practitioner)
    const key = personKey({ reference })
    if (reference !== undefined && key !== undefined) people.set(reference, key)
  }
  return { colonoscopies, leftOut: [...leftOut, ...ambiguous, ...eventsLeftOut], people }
}

interface Parts {
  readonly resources: Resources
  readonly context: LinkContext
  readonly findings: PolypFindings
  readonly tissue: boolean | undefined
  readonly events: Events | undefined
  readonly conditions: readonly Json[]
  /** Resections of colon or rectum among the patient's procedures. */
  readonly resections: readonly Json[]
  readonly patient: Json | undefined
  readonly personKey: PersonKey
  /** Civil date of the as-of instant in a zone. */
  readonly asOfDate: (zone: string) => string
}

function toRecord(examination: Examination, parts: Parts): LinkedColonoscopy {
  const { resources, context, findings, conditions, patient } = parts
  const { codes, source } = context
  const complete = (kind: (typeof source.completeFeeds)[number]) => source.completeFeeds.includes(kind)
  const course = readCourse(examination, resources, codes, complete('photographs'), context.asOf)
  const histology = readHistology(examination.pathologyReports, resources, codes, (key) =>
    isElsewhere(resources.at(key), codes),
  )
  const { polyps, unnamedRemovals, knownPots, impliedRemovals } = findings
  const inPathology = polyps.length + unnamedRemovals > 0 ? 0 : polypsInPathology(histology, knownPots)
  const told = polyps.length + unnamedRemovals + inPathology
  if (told + impliedRemovals + findings.known.length > 0) sawFeed(examination, 'polyps')
  if (examination.specimens.length > 0 || examination.pathologyReports.length > 0) sawFeed(examination, 'pathology')

  // No polyp is a fact only where the feed is complete and the examination's own report is not still open.
  // Where the examination's own code says that a polyp was removed, there was at least one, and nobody says how many.
  const silent = complete('polyps') && course.report !== 'preliminary' && impliedRemovals === 0
  const polypCount = told > 0 ? told : silent ? 0 : undefined
  if (told === 0 && silent)
    note(
      examination,
      'polypCount',
      -1,
      course.report === 'final'
        ? 'final report in a complete feed'
        : 'completed examination without a report, in a complete feed',
    )
  if (inPathology > 0) note(examination, 'polypCount', -1, 'inferred from pathology')

  const pathology = pathologyFacts(examination, findings, histology, {
    asOfDate: parts.asOfDate(examination.zone),
    lagDays: source.pathologyLagDays,
    feedComplete: complete('pathology') && course.report !== 'preliminary',
    polypCount,
  })
  const setting = settingOf(examination, resources, codes)
  const sex = asText(patient?.gender)
  const preparation = readPreparation(examination.observations.preparation, codes)

  const attribution = attribute(examination, resources, codes, parts.personKey)
  const reasons = readReasons(examination, resources, codes)
  const history = readHistory(examination, conditions, codes, complete('history'), {
    procedures: parts.resections,
    asOf: context.asOf,
  })
  const measurements = readMeasurements(examination, codes)
  const eventsComplete = complete('events')
  const { events } = parts
  // One literal with every field: records of one shape are what makes the criteria fast.
  const record: Colonoscopy = {
    procedure: examination.key,
    source: source.id,
    unit: examination.unit?.id,
    examinationDate: examination.date,
    age: ageOn(examination.date, patient),
    sex: isWord(sex, fields.sex.values) ? sex : undefined,
    operator: attribution.operator,
    supervisor: attribution.supervisor,
    supervisorInRoom: attribution.supervisorInRoom,
    operatorRole: attribution.operatorRole,
    setting,
    reasonCount: reasons.reasonCount,
    referralReason: reasons.referralReason,
    intent: course.intent,
    inflammatoryBowelDisease: history.inflammatoryBowelDisease,
    hereditarySyndrome: history.hereditarySyndrome,
    earlierResection: history.earlierResection,
    report: course.report,
    completion: course.completion,
    stopReason: course.stopReason,
    extent: course.extent,
    caecumReached: course.caecumReached,
    completionPhotographed: course.completionPhotographed,
    landmarkPhotographCount: course.landmarkPhotographCount,
    impassableStricture: course.impassableStricture,
    insertionMinutes: measurements.insertionMinutes,
    withdrawalMinutes: measurements.withdrawalMinutes,
    tissueTakenOrTreated:
      parts.tissue || inPathology > 0 || (course.report === 'preliminary' ? undefined : parts.tissue),
    preparationScale: preparation.preparationScale,
    preparationRight: preparation.preparationRight,
    preparationTransverse: preparation.preparationTransverse,
    preparationLeft: preparation.preparationLeft,
    preparationTotal: preparation.preparationTotal,
    segmentsAllAtLeast2: preparation.segmentsAllAtLeast2,
    preparationLevel: preparation.preparationLevel,
    stoppedForPreparation: stoppedForPreparation(course, preparation),
    comfortScale: measurements.comfortScale,
    comfortScore: measurements.comfortScore,
    attachment: measurements.attachment,
    attachmentKind: measurements.attachmentKind,
    polypCount,
    polyps: polyps.length === polypCount ? polyps.map(({ polyp }) => polyp) : undefined,
    polypRemoved: polypRemoved(examination, findings, polypCount, codes),
    polypsWithoutObtainableHistology:
      polypCount === undefined ? undefined : polyps.filter(({ polyp }) => !canHaveHistology(polyp)).length,
    pathology: pathology.pathology,
    adenomaFound: pathology.adenomaFound,
    adenomaCount: pathology.adenomaCount,
    adenomaCountLower: pathology.adenomaCountLower,
    adenomaCountUpper: pathology.adenomaCountUpper,
    traditionalSerratedCount: pathology.traditionalSerratedCount,
    sessileSerratedCount: pathology.sessileSerratedCount,
    hyperplasticCount: pathology.hyperplasticCount,
    cancerCount: pathology.cancerCount,
    otherHistologyCount: pathology.otherHistologyCount,
    perforation: eventFact(events?.perforation, eventsComplete),
    perforationDay: dayNumber(events?.perforation),
    bleeding: eventFact(events?.bleeding, eventsComplete),
    bleedingDay: dayNumber(events?.bleeding),
  }
  return { record, seen: examination.seen, trail: examination.trail }
}

/** Anything removed, biopsied, injected or treated: true as soon as one thing says so, false only where silence means none. */
function tissueTaken(
  examination: Examination,
  findings: ReadonlyMap<Examination, PolypFindings>,
  { codes, source }: LinkContext,
): boolean | undefined {
  const { polyps, known, unnamedRemovals } = findings.get(examination) ?? noFindings
  const lesions = [...polyps, ...known]
  const acts = didAny(examination, codes, 'polypectomy') || didAny(examination, codes, 'tissue-taken-or-treated')
  if (acts || unnamedRemovals > 0 || examination.specimens.length > 0 || examination.pathologyReports.length > 0)
    return true
  if (lesions.some(({ polyp }) => polyp.handling === 'removed' || polyp.handling === 'biopsied')) return true
  if (!source.completeFeeds.includes('polyps')) return undefined
  return lesions.every(({ polyp }) => polyp.handling === 'left') ? false : undefined
}

/** Whether the code of the examination, or of one of its parts, is in a value set. */
function didAny({ all, children }: Examination, codes: LinkContext['codes'], set: string): boolean {
  for (const { code } of all) if (codes.of(code).sets.has(set)) return true
  for (const { code } of children) if (code.sets.has(set)) return true
  return false
}

function settingOf(
  { encounters }: Examination,
  resources: Resources,
  codes: LinkContext['codes'],
): Colonoscopy['setting'] {
  for (const key of encounters) {
    const word = codes.wordOfCoding(resources.at(key)?.class, 'setting')
    if (isWord(word, fields.setting.values)) return word
  }
  return undefined
}

function polypRemoved(
  examination: Examination,
  { polyps, known, unnamedRemovals }: PolypFindings,
  polypCount: number | undefined,
  codes: LinkContext['codes'],
): boolean | undefined {
  const byCode = didAny(examination, codes, 'polypectomy')
  const lesions = [...polyps, ...known]
  if (byCode || unnamedRemovals > 0 || lesions.some(({ polyp }) => polyp.handling === 'removed')) return true
  if (lesions.some(({ polyp }) => polyp.handling === undefined)) return undefined
  return lesions.length > 0 || polypCount === 0 ? false : undefined
}

/** Stopped because of stool, unless every score that was given says the preparation was good: then it is not known. */
function stoppedForPreparation(
  { completion, stopReason }: Pick<Colonoscopy, 'completion' | 'stopReason'>,
  preparation: Pick<Colonoscopy, 'preparationRight' | 'preparationTransverse' | 'preparationLeft' | 'preparationLevel'>,
): boolean | undefined {
  if (completion === 'completed') return false
  if (stopReason === undefined) return undefined
  if (stopReason !== 'inadequate-preparation') return false
  const scores = [preparation.preparationRight, preparation.preparationTransverse, preparation.preparationLeft].filter(
    (score) => score !== undefined,
  )
  const contradicted =
    preparation.preparationLevel === 'adequate' || (scores.length > 0 && scores.every((score) => score >= 2))
  return contradicted ? undefined : true
}

/** True with a recorded event, dated or not; false only where silence means none, and nothing is undecided. */
const eventFact = (day: EventDay | undefined, complete: boolean): boolean | undefined =>
  day === 'undecided' ? undefined : day !== undefined ? true : complete ? false : undefined

const dayNumber = (day: EventDay | undefined): number | undefined => (typeof day === 'number' ? day : undefined)

/** Whole years on a date; undefined when the birth date is too coarse to decide. */
function ageOn(date: string, patient: Json | undefined): number | undefined {
  const born = asText(patient?.birthDate)
  if (born === undefined || !/^\d{4}(-\d{2}(-\d{2})?)?$/.test(born)) return undefined
  const years = (birth: string) => {
    const age = Number(date.slice(0, 4)) - Number(birth.slice(0, 4))
    return date.slice(5) < birth.slice(5) ? age - 1 : age
  }
  const earliest = born.length === 10 ? born : born.length === 7 ? `${born}-01` : `${born}-01-01`
  const latest = born.length === 10 ? born : born.length === 7 ? `${born}-31` : `${born}-12-31`
  const age = years(earliest)
  return age === years(latest) && age >= 0 && epochDay(date) >= epochDay(earliest) ? age : undefined
}

function byPatient(
  resources: readonly Json[],
  patientKey: (subject: unknown) => string | undefined,
): Map<string, Json[]> {
  const map = new Map<string, Json[]>()
  for (const resource of resources) {
    const patient = patientKey(resource.subject)
    if (patient === undefined) continue
    const list = map.get(patient)
    if (list) list.push(resource)
    else map.set(patient, [resource])
  }
  return map
}
