import type { Unit } from '../config.ts'
import type { Meaning } from '../fhir/codes.ts'
import { type CivilSpan, civilDate, isKnownBy, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { FeedKind } from '../record/field.ts'
import type { LeftOut, LinkContext } from './context.ts'
import type { PatientKey } from './patients.ts'
import type { Reading, Told } from './reading.ts'
import type { Topic } from './topics.ts'
import { Trail } from './trail.ts'
import { unitOf } from './unit.ts'

/** A colonoscopy on its way to becoming a record: its Procedure resources, and what linkage has hung on it. */
export interface Examination {
  /** The resource that carries most. */
  readonly lead: Json
  /** Every Procedure resource of this examination. */
  readonly all: readonly Json[]
  /** What their codes mean, in the same order. */
  readonly codes: readonly Meaning[]
  readonly key: string
  readonly patient: string
  readonly unit: Unit | undefined
  readonly zone: string
  /** Civil date in the unit's zone; the last of `span` where it is not known to the day. */
  readonly date: string
  /** The civil dates on which it may have begun: one, unless only a month or a year is written. */
  readonly span: CivilSpan
  /** Milliseconds since 1970 of its start; absent without a time of day. */
  readonly start?: number | undefined
  /** Milliseconds since 1970 of its end; absent where none is written. */
  readonly end: number | undefined
  /** Civil date on which it ended: the next day where it ran past midnight, else `date`. */
  readonly lastDay: string
  readonly encounters: readonly string[]
  /** The encounters that were found. */
  readonly stays: readonly Json[]
  readonly orders: readonly string[]
  /** Began in the window: it is emitted, the others are only rivals. */
  readonly owned: boolean
  /** Sub-procedures that were done. */
  readonly children: Told[]
  /** Sub-procedures of which nothing says whether they were done: they may have been. */
  readonly openActs: Told[]
  /** Observations, and components of observations, by what they tell of. */
  readonly observations: Readonly<Record<Topic, Told[]>>
  /** Polyps told as Conditions. */
  readonly conditions: Told[]
  readonly medications: Told[]
  readonly specimens: string[]
  readonly pathologyReports: Json[]
  /** Reports of the examination itself that share its encounter. */
  readonly ownReports: Json[]
  readonly seen: FeedKind[]
  /** Kinds of which something may belong to it that could not be placed: their silence means nothing here. */
  readonly openKinds: FeedKind[]
  /** What could not be placed may tell how far it went. */
  isCourseOpen: boolean
  /** Kept only where a survey asks for it. */
  readonly trail: Trail | undefined
}

const counted = new Set(['completed', 'stopped'])
const refused: Readonly<Record<string, string>> = {
  'entered-in-error': 'entered in error',
  'not-done': 'not done',
  preparation: 'not finished',
  'in-progress': 'not finished',
  'on-hold': 'not finished',
}

interface Candidate {
  readonly procedure: Json
  readonly code: Meaning
  readonly key: string
  readonly patient: string
  readonly encounter: string | undefined
  readonly stay: Json | undefined
  readonly unit: Unit | undefined
  readonly zone: string
  readonly span: CivilSpan
  readonly start: number | undefined
  readonly end: number | undefined
}

/**
 * Finds the colonoscopies among a window's resources, one examination each, rivals outside the window included.
 *
 * Two Procedure resources are one examination when patient and civil date are the same and they share an identifier, or
 * start together, or overlap, or one of them has no time of day. Two examinations on consecutive days stay two.
 *
 * A date that is only a month or a year is an interval: its examination counts in a period that holds the whole of it, and is
 * else left out as too coarse.
 */
export function findExaminations(
  { resources, procedures }: Reading,
  patientKey: PatientKey,
  context: LinkContext,
): { examinations: Examination[]; leftOut: LeftOut[] } {
  const { window, period = window } = context
  const leftOut: LeftOut[] = []
  const colonoscopies = procedures.filter(({ code }) => code.sets.has('colonoscopy'))
  let keys: Set<string | undefined> | undefined
  /** A polypectomy may carry a colonoscopy code of its own; what is part of a colonoscopy is not another one. */
  const isPartOfAnother = ({ partOf }: Json): boolean => {
    if (partOf === undefined) return false
    keys ??= new Set(colonoscopies.map(({ resource }) => ownKey(resource)))
    return asObjects(partOf).some((one) => keys?.has(referenceKey(one)))
  }
  const candidates: Candidate[] = []

  for (const { resource: procedure, code } of colonoscopies) {
    if (isPartOfAnother(procedure)) continue
    const key = ownKey(procedure)
    const encounter = referenceKey(procedure.encounter)
    const stay = encounter === undefined ? undefined : resources.at(encounter)
    const unit = unitOf(procedure, stay, context.source)
    const zone = unit?.zone ?? context.source.zone
    const performed = asObject(procedure.performedPeriod)
    const written = performed?.start ?? procedure.performedDateTime
    const moment = readMoment(written, zone)
    const reject = (reason: string) =>
      leftOut.push({ reference: key ?? encounter ?? referenceKey(procedure.subject) ?? 'Procedure', reason })
    if (moment === undefined) {
      // A colonoscopy without a date belongs to no period; it is shown in every one, once.
      reject('no date')
      continue
    }
    const span = spanOf(moment)
    if (moment.date === undefined && !(span.first >= period.start && span.last <= period.end)) {
      if (span.first <= period.end && span.last >= period.start) reject('date coarser than a day')
      continue
    }
    const owned = isOwned(span, window)
    const status = asText(procedure.status) ?? 'unknown'
    if (!counted.has(status)) {
      if (owned) reject(refused[status] ?? 'status unknown')
      continue
    }
    if (!isKnownBy(written, context.asOf, zone)) continue
    if (key === undefined) {
      if (owned) reject('no id')
      continue
    }
    const patient = patientKey(procedure.subject)
    if (patient === undefined) {
      if (owned) reject('no patient')
      continue
    }
    const end = readMoment(performed?.end, zone)?.instant
    candidates.push({ procedure, code, key, patient, encounter, stay, unit, zone, span, start: moment.instant, end })
  }

  const examinations = groupCandidates(candidates).map((group) => toExamination(group, context))
  for (const { all, owned, key } of examinations)
    if (owned)
      for (const one of all) {
        const reference = ownKey(one)
        if (reference !== undefined && reference !== key)
          leftOut.push({ reference, reason: 'second resource of one examination' })
      }
  return { examinations, leftOut }
}

/** Remembers that the examination's source sent something of a kind. */
export function sawFeed({ seen }: Examination, kind: FeedKind): void {
  if (!seen.includes(kind)) seen.push(kind)
}

/** The window that holds the last day on which it may have begun owns it: so exactly one window of any split does. */
const isOwned = ({ last }: CivilSpan, { start, end }: { readonly start: string; readonly end: string }): boolean =>
  last >= start && last <= end

function groupCandidates(candidates: readonly Candidate[]): Candidate[][] {
  const byPatientDay = new Map<string, Candidate[]>()
  for (const candidate of candidates) {
    const { first, last } = candidate.span
    const day = `${candidate.patient}|${first}|${last}`
    const others = byPatientDay.get(day)
    if (others) others.push(candidate)
    else byPatientDay.set(day, [candidate])
  }
  return [...byPatientDay.values()].flatMap((sameDay) => (sameDay.length === 1 ? [sameDay] : groupSameDay(sameDay)))
}

/** Fullest first, so that a bare copy joins the full resource, whatever order they came in. */
function groupSameDay(candidates: readonly Candidate[]): Candidate[][] {
  const groups: Candidate[][] = []
  const weight = ({ procedure }: Candidate) => Object.keys(procedure).length
  for (const candidate of [...candidates].sort(
    (one, other) => weight(other) - weight(one) || (one.key < other.key ? -1 : 1),
  )) {
    const same = groups.find((group) => group.some((member) => isSameExamination(member, candidate)))
    if (same) same.push(candidate)
    else groups.push([candidate])
  }
  return groups
}

function isSameExamination(one: Candidate, other: Candidate): boolean {
  const identifiers = (candidate: Candidate) =>
    asObjects(candidate.procedure.identifier).map(({ system, value }) => `${String(system)}|${String(value)}`)
  const own = identifiers(one)
  if (identifiers(other).some((identifier) => own.includes(identifier))) return true
  // Two that are only known to have been in one month may well be two.
  if (one.span.first !== one.span.last) return false
  if (one.start === undefined || other.start === undefined || one.start === other.start) return true
  const [first, second] = one.start < other.start ? [one, other] : [other, one]
  return first.end !== undefined && second.start !== undefined && second.start < first.end
}

/** Longest that an examination can take, in milliseconds: an end after that is a slip, or of the whole stay. */
const longest = 12 * 3_600_000

function lastDayOf({ span, start, zone }: Candidate, end: number | undefined): string {
  if (start === undefined || end === undefined || end < start || end - start > longest) return span.last
  const date = civilDate(end, zone)
  return date > span.last ? date : span.last
}

function toExamination(group: readonly Candidate[], { window, survey }: LinkContext): Examination {
  const lead = group[0] as Candidate
  const all = group.map(({ procedure }) => procedure)
  const encounters: string[] = []
  const stays: Json[] = []
  for (const { encounter, stay } of group) {
    if (encounter === undefined || encounters.includes(encounter)) continue
    encounters.push(encounter)
    if (stay) stays.push(stay)
  }
  let start = lead.start
  for (const one of group)
    if (one.start !== undefined && !(start !== undefined && start <= one.start)) start = one.start
  let end = lead.end
  for (const one of group) if (one.end !== undefined && !(end !== undefined && end >= one.end)) end = one.end
  return {
    lead: lead.procedure,
    all,
    codes: group.map(({ code }) => code),
    key: lead.key,
    patient: lead.patient,
    unit: lead.unit ?? group.find(({ unit }) => unit)?.unit,
    zone: lead.zone,
    date: lead.span.last,
    span: lead.span,
    start,
    end,
    lastDay: lastDayOf(lead, end),
    encounters,
    stays,
    orders: keysAt(all, 'basedOn'),
    owned: isOwned(lead.span, window),
    children: [],
    openActs: [],
    observations: {
      polyp: [],
      'polyp-size': [],
      preparation: [],
      course: [],
      time: [],
      comfort: [],
      equipment: [],
      attachment: [],
      history: [],
      people: [],
      advice: [],
      other: [],
    },
    conditions: [],
    medications: [],
    specimens: [],
    pathologyReports: [],
    ownReports: [],
    seen: [],
    openKinds: [],
    isCourseOpen: false,
    trail: survey && new Trail(),
  }
}
