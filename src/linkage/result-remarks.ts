import { holdsValue } from '../fhir/holds-value.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { referenceKey } from '../fhir/references.ts'
import { bowelSites, isWord } from '../record/words.ts'
import { containedIn } from './contained.ts'
import { holdsOtherTissue, remarksOfResult } from './diagnoses.ts'
import type { Reading } from './reading.ts'
import { isLesion, nothingOfOurs, type Remark, remarkOf } from './remark.ts'

export const voided: ReadonlySet<unknown> = new Set(['entered-in-error', 'cancelled'])

/** Six levels are more than any report that has been met; the limit stops a circle of members. */
const deepest = 6

/** Finds what a report or a result refers to: among the window's resources, or contained in one of the holders. */
export function referred(reference: Json, holders: readonly Json[], { resources }: Reading): Json | undefined {
  const key = referenceKey(reference)
  if (key !== undefined) return resources.at(key)
  for (const holder of holders) {
    const found = containedIn(holder, reference)
    if (found) return found
  }
  return undefined
}

/** What some results say of one specimen. */
export interface ResultEntry {
  /** The result, and within a panel the panel. */
  readonly result: Json
  /** Key of the specimen that the result names itself. */
  readonly specimen: string | undefined
  /** One for each diagnosis or detail, repeats kept. */
  readonly remarks: readonly Remark[]
  /** Results and parts that nobody can read and that may be diagnoses: a coded value, or a yes, of which nothing is known. */
  readonly unread: readonly Json[]
  /** Results without a coded value: words, numbers. Beside a diagnosis of the same polyp they are notes on it. */
  readonly notes: readonly Json[]
  /** It holds tissue without a lesion beside one: around it, or another piece. */
  readonly isMixed: boolean
}

/** What a report's results are read with. */
export interface ResultWalk {
  readonly reading: Reading
  readonly patient: string
  readonly isKnown: (result: Json) => boolean
  /** Results that are read: a member that its report lists as well is one result. */
  readonly seen: Set<Json>
  /** Members that lead nowhere. */
  deadEnds: number
  /** Members that became known only after the as-of instant. */
  later: number
}

/** What was sent and how it looked is no diagnosis, whatever is coded in it. */
export const isDescription = ({ code }: Json, { codes }: Reading): boolean =>
  codes.of(code).sets.has('pathology-description')

/**
 * What one result says: its value, and what its components and members add, at any depth. A member that names a specimen of its
 * own speaks of that one alone. A result whose code names a class and whose value is yes or no says that the class is there or
 * is not. A value that is neither names no class.
 *
 * @param holders what may contain the members: the report, and the results on the way
 */
export function entriesOf(result: Json, holders: readonly Json[], walk: ResultWalk, depth = 0): readonly ResultEntry[] {
  const { reading, patient, seen } = walk
  if (voided.has(result.status) || seen.has(result)) return []
  seen.add(result)
  if (isDescription(result, reading)) return []
  const members = membersOf(result, holders, walk, depth)
  const specimen = referenceKey(result.specimen) ?? commonSpecimen(members)
  const together = members.filter((one) => one.specimen === undefined || one.specimen === specimen)
  const apart = members.filter((one) => !together.includes(one))
  const parts = together.flatMap(({ remarks }) => remarks)
  const unread = together.flatMap((one) => one.unread)
  const notes = together.flatMap((one) => one.notes)
  let isPartUnread = false
  for (const component of asObjects(result.component)) {
    const said = saidBy(component, reading, patient)
    if (typeof said === 'object') parts.push(said)
    else if (said === 'unread') isPartUnread = true
  }
  const said = saidBy(result, reading, patient)
  const own = typeof said === 'object' ? said : undefined
  // Beside a value that nobody can read a grade is a detail of it, and no finding of its own.
  const remarks = remarksOfResult(own, said === 'unread' ? parts.map(asDetail) : parts)
  // A component beside a diagnosis of its result only describes it.
  if (said === 'unread' || (isPartUnread && own?.histology === undefined)) unread.push(result)
  else if (said === 'note' && (holdsValue(result) || !holdsParts(result))) notes.push(result)
  if (apart.length > 0 && remarks.length + unread.length + notes.length === 0) return apart
  const isMixed = together.some((one) => one.isMixed) || holdsOtherTissue(own, parts)
  return [{ result, specimen, remarks, unread, notes, isMixed }, ...apart]
}

function membersOf(result: Json, holders: readonly Json[], walk: ResultWalk, depth: number): readonly ResultEntry[] {
  if (result.hasMember === undefined) return none
  const { reading } = walk
  if (depth >= deepest) {
    reading.survey?.deadEnd('Observation.hasMember', result)
    walk.deadEnds++
    return none
  }
  const within = [result, ...holders]
  return asObjects(result.hasMember).flatMap((reference) => {
    const member = referred(reference, within, reading)
    if (member === undefined) {
      reading.survey?.deadEnd('Observation.hasMember', result)
      walk.deadEnds++
      return []
    }
    if (walk.isKnown(member)) return entriesOf(member, within, walk, depth + 1)
    walk.later++
    return []
  })
}

const none: readonly never[] = []

const holdsParts = ({ component, hasMember }: Json): boolean => component !== undefined || hasMember !== undefined

/** A panel of one specimen that only its members name is of that specimen. */
function commonSpecimen(members: readonly ResultEntry[]): string | undefined {
  const [first, ...others] = new Set(members.map(({ specimen }) => specimen))
  return others.length === 0 ? first : undefined
}

/** Results of a report that are no member of another of them; of a circle of members, the first. */
export function rootsOf(results: readonly Json[], report: Json, reading: Reading): readonly Json[] {
  if (results.length < 2 || results.every(({ hasMember }) => hasMember === undefined)) return results
  const below = (result: Json, within: readonly Json[], found: Set<Json>): Set<Json> => {
    if (result.hasMember === undefined || within.length > deepest + 1) return found
    for (const reference of asObjects(result.hasMember)) {
      const member = referred(reference, [result, ...within], reading)
      if (member === undefined || found.has(member)) continue
      found.add(member)
      below(member, [result, ...within], found)
    }
    return found
  }
  const inside = new Map(results.map((result) => [result, below(result, [report], new Set())]))
  return results.filter(
    (one, at) =>
      !results.some(
        (other, index) => other !== one && inside.get(other)?.has(one) && !(inside.get(one)?.has(other) && index > at),
      ),
  )
}

const asDetail = (part: Remark): Remark => (part.isGrade ? { ...part, histology: undefined, isGrade: false } : part)

/**
 * What the value of a result or component says: a remark; that nobody can read it; that it is a note, with words or nothing in
 * it; or nothing, where it tells a site or denies something.
 */
type SaidByValue = Remark | 'unread' | 'note' | 'nothing'

function saidBy(holder: Json, { codes, survey }: Reading, patient: string): SaidByValue {
  const { valueCodeableConcept: concept, valueBoolean } = holder
  if (typeof valueBoolean === 'boolean') {
    if (survey && isUnknown(codes.of(holder.code))) survey.missed('Observation.code (pathology)', holder.code, patient)
    return valueBoolean ? (remarkOf(holder.code, codes) ?? 'unread') : (absence(codes.of(holder.code)) ?? 'nothing')
  }
  if (concept === undefined) {
    survey?.missedText('Observation.valueString (pathology)', holder.valueString, patient)
    return 'note'
  }
  const remark = remarkOf(concept, codes)
  if (remark === undefined) {
    const meaning = codes.of(concept)
    if (survey && isUnknown(meaning)) survey.missed('Observation.valueCodeableConcept (pathology)', concept, patient)
    return meaning.words.has('bowel-site') || isWord(meaning.fact, bowelSites) ? 'nothing' : 'unread'
  }
  if (isLesion(remark) || remark.histology === undefined) return remark
  // "Tubular adenoma: high grade" is no other finding than the adenoma its code asks for, and does not say that it is there.
  const asked = remarkOf(holder.code, codes)
  return asked !== undefined && isLesion(asked) ? asDetail(remark) : remark
}

/**
 * What a plain "no" says. That there is no conventional adenoma of any kind makes the tissue something else; that there is no
 * dysplasia is a grade. A "no" to one kind of adenoma, or to any other class, leaves open what the tissue is.
 */
function absence({ words, fact }: Meaning): Remark | undefined {
  const word = words.get('histology') ?? fact
  if (word === 'conventional-adenoma' && !words.has('villous')) return nothingOfOurs
  if (fact === 'dysplasia') return { ...nothingOfOurs, dysplasia: 'none', isGrade: true }
  return undefined
}

const isUnknown = ({ sets, words, fact }: Meaning): boolean => fact === undefined && sets.size === 0 && words.size === 0
