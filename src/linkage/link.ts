import { civilDate } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import type { LinkedColonoscopy } from '../record/colonoscopy.ts'
import type { LeftOut, LinkContext } from './context.ts'
import { readCourse } from './course.ts'
import { assignEvents } from './events.ts'
import { type Examination, findExaminations } from './examinations.ts'
import { gather } from './gather.ts'
import { Ladder } from './ladder.ts'
import { type PatientKey, patientKeys, patientRecords, unheardKinds } from './patients.ts'
import { type PersonKey, personKeys } from './person-key.ts'
import { tissueTaken } from './polyp-facts.ts'
import { findPolyps, noFindings, type PolypFindings } from './polyps.ts'
import { type Reading, readingOf } from './reading.ts'
import { surveyShapes } from './survey-shapes.ts'
import { surveyStrays } from './survey-strays.ts'
import { toRecord } from './to-record.ts'
import { assignVisits } from './visits.ts'
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
