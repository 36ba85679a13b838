import type { Unit } from '../config.ts'
import { type CivilSpan, civilDate } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { keysAt, referenceKey } from '../fhir/references.ts'
import type { FeedKind } from '../record/field.ts'
import {
  type Candidate,
  type Counted,
  isCoarse,
  isKnown,
  lastDayOf,
  longest,
  readCandidate,
  refusalOf,
  type Times,
  timesOf,
} from './candidates.ts'
import type { LeftOut, LinkContext } from './context.ts'
import { partsOfOthers } from './part-of-another.ts'
import type { PatientKey } from './patients.ts'
import type { Reading, Told } from './reading.ts'
import { groupResources } from './same-examination.ts'
import { timeOfDay } from './time-of-day.ts'
import type { Topic } from './topics.ts'
import { Trail } from './trail.ts'
import { unitOfAll } from './unit.ts'

/** A colonoscopy on its way to becoming a record: its Procedure resources, and what linkage has hung on it. */
export interface Examination {
  /** The resource that leads: one with a time of day where there is one, and of those the one that carries most. */
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
  /** Observations, and components of observations, by what they tell of: see {@link hang}. */
  readonly observations: Record<Topic, Told[]>
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

/**
 * Finds the colonoscopies among a window's resources, one examination each, rivals outside the window included: what counts
 * and is part of no other one, with its second resources.
 *
 * A date that is only a month or a year is an interval: its examination counts in a period that holds the whole of it, and is
 * else left out as too coarse.
 */
export function findExaminations(
  reading: Reading,
  patientKey: PatientKey,
  context: LinkContext,
): { examinations: Examination[]; leftOut: LeftOut[] } {
  const leftOut: LeftOut[] = []
  const byPatient = new Map<string, Counted[]>()
  for (const candidate of candidatesIn(reading, patientKey, context)) {
    const one = countedOf(candidate, context, leftOut)
    if (one === undefined) continue
    const others = byPatient.get(one.patient)
    if (others) others.push(one)
    else byPatient.set(one.patient, [one])
  }
  const examinations: Examination[] = []
  for (const ofOne of byPatient.values()) {
    const { groups, undecided } = groupResources(ofOne, reading.resources)
    for (const { key, span } of undecided)
      if (isOwned(span, context.window))
        leftOut.push({ reference: key, reason: 'second resource of one examination, which one undecided' })
    for (const group of groups) {
      const examination = toExamination(group, context)
      if (isCoarse(examination.span) && !isInside(examination.span, context)) {
        for (const { key, span } of group) rejectCoarse(key, span, context, leftOut)
        continue
      }
      examinations.push(examination)
      if (examination.owned)
        for (const { key } of group)
          if (key !== examination.key) leftOut.push({ reference: key, reason: 'second resource of one examination' })
    }
  }
  return { examinations, leftOut }
}

function candidatesIn(reading: Reading, patientKey: PatientKey, context: LinkContext): Candidate[] {
  const candidates: Candidate[] = []
  for (const performed of reading.procedures)
    if (performed.code.sets.has('colonoscopy'))
      candidates.push(readCandidate(performed, reading, patientKey, context.source))
  const parts = partsOfOthers(candidates, context)
  return parts.size === 0 ? candidates : candidates.filter((one) => !parts.has(one))
}

/** The candidate where it counts; else why it does not is listed, by the window that owns it. */
function countedOf(candidate: Candidate, context: LinkContext, leftOut: LeftOut[]): Counted | undefined {
  const { procedure, key, encounter, span } = candidate
  const reference = key ?? encounter ?? referenceKey(procedure.subject) ?? 'Procedure'
  if (span === undefined) {
    // A colonoscopy without a date belongs to no period; it is shown in every one, once.
    leftOut.push({ reference, reason: 'no date' })
    return undefined
  }
  const refusal = refusalOf(candidate)
  const isMeant = refusal === undefined && isIdentified(candidate)
  if (!isMeant && isCoarse(span) && !isInside(span, context)) {
    rejectCoarse(reference, span, context, leftOut)
    return undefined
  }
  if (refusal === undefined && !isKnown(candidate, context.asOf)) return undefined
  if (isMeant) return candidate
  if (isOwned(span, context.window))
    leftOut.push({ reference, reason: refusal ?? (key === undefined ? 'no id' : 'no patient') })
  return undefined
}

const isIdentified = (one: Candidate): one is Counted =>
  one.key !== undefined && one.patient !== undefined && one.span !== undefined

/** Whether a period holds the whole of a span. */
const isInside = ({ first, last }: CivilSpan, { window, period = window }: LinkContext): boolean =>
  first >= period.start && last <= period.end

function rejectCoarse(
  reference: string,
  { first, last }: CivilSpan,
  { window, period = window }: LinkContext,
  leftOut: LeftOut[],
): void {
  if (first <= period.end && last >= period.start) leftOut.push({ reference, reason: 'date coarser than a day' })
}

/** One list for every topic of which nothing is told: most topics of most examinations. */
const nothingTold: Told[] = []
Object.freeze(nothingTold)

/** Hangs an observation, or a component of one, on an examination. A list is made with its first entry. */
export function hang({ observations }: Examination, topic: Topic, told: Told): void {
  const list = observations[topic]
  if (list === nothingTold) observations[topic] = [told]
  else list.push(told)
}

/** Remembers that the examination's source sent something of a kind. */
export function sawFeed({ seen }: Examination, kind: FeedKind): void {
  if (!seen.includes(kind)) seen.push(kind)
}

/** The window that holds the last day on which it may have begun owns it: so exactly one window of any split does. */
const isOwned = ({ last }: CivilSpan, { start, end }: { readonly start: string; readonly end: string }): boolean =>
  last >= start && last <= end

/** The one with a time of day first, then the fullest: it leads, whatever order they came in. */
function ranked(group: readonly Counted[]): readonly Counted[] {
  if (group.length === 1) return group
  const isTimed = new Map(group.map((one) => [one, timeOfDay(one) !== undefined]))
  const weight = ({ procedure }: Counted): number => Object.keys(procedure).length
  return [...group].sort(
    (one, other) =>
      Number(isTimed.get(other)) - Number(isTimed.get(one)) ||
      weight(other) - weight(one) ||
      (one.key < other.key ? -1 : 1),
  )
}

function toExamination(unordered: readonly Counted[], { source, window, survey }: LinkContext): Examination {
  const group = ranked(unordered)
  const lead = group[0] as Counted
  const all = group.map(({ procedure }) => procedure)
  const unit = group.length === 1 ? lead.unit : unitOfAll(group, source)
  const zone = unit?.zone ?? source.zone
  const times = timesOfGroup(group, zone)
  const span = group.length === 1 ? lead.span : spanOfGroup(lead, times, zone)
  const encounters: string[] = []
  const stays: Json[] = []
  for (const { encounter, stay } of group) {
    if (encounter === undefined || encounters.includes(encounter)) continue
    encounters.push(encounter)
    if (stay) stays.push(stay)
  }
  return {
    lead: lead.procedure,
    all,
    codes: group.map(({ code }) => code),
    key: lead.key,
    patient: lead.patient,
    unit,
    zone,
    date: span.last,
    span,
    start: times.start,
    end: times.end,
    lastDay: lastDayOf(span.last, times, zone),
    encounters,
    stays,
    orders: keysAt(all, 'basedOn'),
    owned: isOwned(span, window),
    children: [],
    observations: {
      polyp: nothingTold,
      'polyp-size': nothingTold,
      preparation: nothingTold,
      course: nothingTold,
      time: nothingTold,
      comfort: nothingTold,
      equipment: nothingTold,
      attachment: nothingTold,
      history: nothingTold,
      people: nothingTold,
      advice: nothingTold,
      biopsies: nothingTold,
      other: nothingTold,
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

/** The start decides the date, in the zone of the unit: times are read before it is known which copy names that. */
function spanOfGroup({ span, zone: read }: Counted, { start }: Times, zone: string): CivilSpan {
  if (start === undefined) return span
  const date = civilDate(start, zone)
  return zone === read && span.first === date ? span : { first: date, last: date }
}

/**
 * Start and end of an examination: the earliest start, and the latest end, of those of its resources that began when the
 * leading one did, give or take half a day; of those with an end where there are such, as a start alone may be when it was
 * planned.
 */
function timesOfGroup([lead, ...more]: readonly Counted[], zone: string): Times {
  if (lead === undefined) return { start: undefined, end: undefined }
  const own = lead.zone === zone ? lead.times : timesOf(lead.procedure, zone)
  const { start: about } = own
  if (about === undefined || more.length === 0) return own
  const timed = [lead, ...more].flatMap((one) => {
    const { start, end } = timeOfDay(one) === undefined ? { start: undefined } : timesOf(one.procedure, zone)
    return start !== undefined && Math.abs(start - about) <= longest ? [{ start, end }] : []
  })
  const ended = timed.filter(({ end }) => end !== undefined)
  const told = ended.length > 0 ? ended : timed
  if (told.length === 0) return own
  return {
    start: Math.min(...told.map(({ start }) => start)),
    end: ended.length > 0 ? Math.max(...ended.map(({ end }) => end ?? about)) : undefined,
  }
}
