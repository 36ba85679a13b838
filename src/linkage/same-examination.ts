import { addDays, type CivilSpan, daysBetween } from '../fhir/dates.ts'
import { asObjects, asText, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import { type Counted, isCoarse, writtenStart } from './candidates.ts'
import type { Resources } from './context.ts'
import { midnightWritten, type TimeOfDay, timeOfDay } from './time-of-day.ts'

/** Which resources are one examination, and which cannot be told apart. */
export interface Grouped {
  readonly groups: readonly (readonly Counted[])[]
  /** Second resources of one of several examinations, of which nothing says which one. */
  readonly undecided: readonly Counted[]
}

/** Days within which an identifier that comes again means the same examination. */
const nearDays = 3

/**
 * Which resources of one patient are one examination. The order in which they came, and how much each says, make no difference.
 *
 * 1. Those with a time of day are one when they share an identifier within {@link nearDays} days, start together or overlap;
 *    what is one with the same is one.
 * 2. What has a start and no end is one with the only examination of its day, order and encounter.
 * 3. What has no time of day (midnight is none, nor is an end after more than 12 hours) is one with the only examination that
 *    shares an identifier with it, else with the only one of its day. Where there are several it is a second resource of one
 *    of them, and nobody knows of which: it is no examination, and never makes two of them one.
 * 4. What is left without a time of day is one with what shares its identifier or its day. Of two that are only known to have
 *    been in one month that is not said.
 *
 * An identifier of the patient or of the encounter tells nothing of the examination. Two examinations on consecutive days
 * stay two.
 */
export function groupResources(candidates: readonly Counted[], resources: Resources): Grouped {
  if (candidates.length === 1) return { groups: [candidates], undecided: [] }
  const groups: Counted[][] = []
  const undecided: Counted[] = []
  for (const near of clustersOf(candidates)) {
    if (near.length === 1) groups.push(near)
    else groupNear(near, resources, groups, undecided)
  }
  return { groups, undecided }
}

/** Clusters between which lie more days than anything here reaches over: nearly every examination is one of its own. */
function clustersOf(candidates: readonly Counted[]): Counted[][] {
  const clusters: Counted[][] = []
  let until = ''
  for (const one of [...candidates].sort(byDate)) {
    const { first, last } = one.span
    const cluster = clusters.at(-1)
    if (cluster !== undefined && first <= until) cluster.push(one)
    else clusters.push([one])
    const reach = addDays(last, nearDays)
    if (reach > until) until = reach
  }
  return clusters
}

const byDate = (one: Counted, other: Counted): number =>
  one.span.first === other.span.first ? (one.key < other.key ? -1 : 1) : one.span.first < other.span.first ? -1 : 1

/** A candidate with what its identity is told by, worked out once. */
interface Known {
  readonly candidate: Counted
  readonly time: TimeOfDay | undefined
  /** Civil dates of which each may be its day: in its zone and as written. None where it is known to the month only. */
  readonly days: readonly string[]
  readonly identifiers: readonly string[]
}

function groupNear(
  candidates: readonly Counted[],
  resources: Resources,
  groups: Counted[][],
  undecided: Counted[],
): void {
  const foreign = foreignIdentifiers(candidates, resources)
  const known = candidates.map((one) => knownOf(one, foreign))
  const timed = joined(known.filter(isTimed), isAtOneTime)
  const untimed = joined(
    known.filter((one) => !isTimed(one)),
    sharesIdentifier,
  )
  const measured = timed.filter((group) => group.some(hasEnd))
  const open = joined(timed.filter((group) => !measured.includes(group)).flat(), isOfOneVisit)

  // Each is held against the examinations as they were before any of its kind was joined: none makes a way for another.
  const begun = placeAll(open, measured, [isOfOneVisit])
  const placed = placeAll(untimed, [...begun.wholes, ...begun.left], [sharesIdentifier, isOfOneDay])
  const dayless = joined(placed.left.flat(), (one, other) => sharesIdentifier(one, other) || isOfOneDay(one, other))
  for (const group of [...placed.wholes, ...dayless]) groups.push(group.map(({ candidate }) => candidate))
  for (const { candidate } of [...begun.lost, ...placed.lost]) undecided.push(candidate)
}

type Group = readonly Known[]

/**
 * Joins each group with the only whole that it fits, by the first way in which it fits any.
 *
 * @returns the wholes with what was joined, the groups that fit none, and what fits several
 */
function placeAll(groups: readonly Group[], wholes: readonly Group[], ways: readonly IsSame[]) {
  const joinedWith = wholes.map((whole) => [...whole])
  const left: Group[] = []
  const lost: Known[] = []
  for (const group of groups) {
    const fitting = fittingIndexes(group, wholes, ways)
    const [only] = fitting
    if (only === undefined) left.push(group)
    else if (fitting.length > 1) lost.push(...group)
    else joinedWith[only]?.push(...group)
  }
  return { wholes: joinedWith as readonly Group[], left, lost }
}

function fittingIndexes(group: Group, wholes: readonly Group[], ways: readonly IsSame[]): readonly number[] {
  for (const isSame of ways) {
    const fitting = wholes.flatMap((whole, index) =>
      group.some((one) => whole.some((other) => isSame(one, other))) ? [index] : [],
    )
    if (fitting.length > 0) return fitting
  }
  return []
}

type IsSame = (one: Known, other: Known) => boolean

/** Groups of what is the same, and of what is the same as one of them. */
function joined(list: readonly Known[], isSame: IsSame): Known[][] {
  let groups: Known[][] = []
  for (const one of list) {
    const same = groups.filter((group) => group.some((other) => isSame(one, other)))
    groups = [...groups.filter((group) => !same.includes(group)), [...same.flat(), one]]
  }
  return groups
}

function knownOf(candidate: Counted, foreign: ReadonlySet<string>): Known {
  const time = timeOfDay(candidate)
  return {
    candidate,
    time,
    days: daysOf(candidate, time),
    identifiers: identifiersOf(candidate.procedure).filter((one) => !foreign.has(one)),
  }
}

/** The day in the zone; a date dressed as midnight is as written; so may be a time with an offset, where another copy has the unit. */
function daysOf(candidate: Counted, time: TimeOfDay | undefined): string[] {
  const { span, times, procedure } = candidate
  if (isCoarse(span)) return []
  if (times.start === undefined) return [span.first]
  const dressed = time === undefined ? midnightWritten(candidate) : undefined
  if (dressed !== undefined) return [dressed]
  const written = asText(writtenStart(procedure)) ?? ''
  return written.endsWith('Z') ? [span.first] : [span.first, written.slice(0, 10)]
}

/** Identifiers of the patient and of the encounters: to share one of these is not to be one examination. */
function foreignIdentifiers(candidates: readonly Counted[], resources: Resources): Set<string> {
  const foreign = new Set<string>()
  for (const { patient, procedure, stay } of candidates)
    for (const holder of [resources.at(patient), resources.at(referenceKey(procedure.subject)), stay])
      for (const identifier of identifiersOf(holder)) foreign.add(identifier)
  return foreign
}

/** Business identifiers, as `system|value`; what lacks either identifies nothing. */
function identifiersOf(resource: Json | undefined): string[] {
  return asObjects(resource?.identifier).flatMap(({ system, value }) => {
    const [space, text] = [asText(system), asText(value)]
    return space === undefined || text === undefined ? [] : [`${space}|${text}`]
  })
}

const isTimed = ({ time }: Known): boolean => time !== undefined
const hasEnd = ({ time }: Known): boolean => time?.end !== undefined

const isAtOneTime: IsSame = (one, other) =>
  sharesIdentifier(one, other) || startTogether(one, other) || overlap(one, other)

/** Times without a zone are read in the unit's, and a copy may not say which: they are the same as they are written. */
function startTogether({ time: one, candidate: first }: Known, { time: other, candidate: second }: Known): boolean {
  if (one === undefined || other === undefined) return false
  return one.start === other.start || asText(writtenStart(first.procedure)) === asText(writtenStart(second.procedure))
}

function overlap({ time: one }: Known, { time: other }: Known): boolean {
  if (one === undefined || other === undefined) return false
  const [first, second] = one.start < other.start ? [one, other] : [other, one]
  return first.end !== undefined && second.start < first.end
}

/** Of what is only known to the year nobody can say whether it is near. */
function sharesIdentifier(
  { candidate: one, identifiers }: Known,
  { candidate: other, identifiers: others }: Known,
): boolean {
  if (!identifiers.some((identifier) => others.includes(identifier))) return false
  const [before, after] = one.span.first < other.span.first ? [one.span, other.span] : [other.span, one.span]
  return isWithinMonth(before) && isWithinMonth(after) && daysBetween(before.last, after.first) <= nearDays
}

const isWithinMonth = ({ first, last }: CivilSpan): boolean => daysBetween(first, last) <= 31

const isOfOneDay: IsSame = ({ days: one }, { days: other }) => one.some((day) => other.includes(day))

/** Same day, order and encounter, and one of them without an end. */
function isOfOneVisit(one: Known, other: Known): boolean {
  if ((hasEnd(one) && hasEnd(other)) || !isOfOneDay(one, other)) return false
  const { encounter, procedure } = one.candidate
  if (encounter === undefined || encounter !== other.candidate.encounter) return false
  const orders = ordersOf(other.candidate.procedure)
  return ordersOf(procedure).some((order) => orders.includes(order))
}

const ordersOf = ({ basedOn }: Json): string[] => asObjects(basedOn).flatMap((order) => referenceKey(order) ?? [])
