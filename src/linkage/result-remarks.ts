import { asObjects, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { referenceKey } from '../fhir/references.ts'
import { containedIn } from './contained.ts'
import { remarksOfResult } from './diagnoses.ts'
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

/**
 * What one result says: its value, and what its components and members add, at any depth. A result whose code names a class and
 * whose value is yes or no says that the class is there or is not. A value that is neither names no class.
 *
 * @param holders what may contain the members: the report, and the results on the way
 */
export function remarksIn(
  result: Json,
  holders: readonly Json[],
  reading: Reading,
  patient: string,
  depth = 0,
): readonly Remark[] {
  if (voided.has(result.status)) return []
  const parts: Remark[] = []
  for (const component of asObjects(result.component)) {
    const remark = remarkHeld(component, reading, patient)
    if (remark !== undefined) parts.push(remark)
  }
  if (depth < deepest && result.hasMember !== undefined) {
    const within = [result, ...holders]
    for (const reference of asObjects(result.hasMember)) {
      const member = referred(reference, within, reading)
      if (member) parts.push(...remarksIn(member, within, reading, patient, depth + 1))
      else reading.survey?.deadEnd('Observation.hasMember', result)
    }
  } else if (result.hasMember !== undefined) reading.survey?.deadEnd('Observation.hasMember', result)
  const own = remarkHeld(result, reading, patient)
  // Beside a value that nobody can read a grade is a detail of it, and no finding of its own.
  const isUnread = own === undefined && result.valueCodeableConcept !== undefined
  return remarksOfResult(own, isUnread ? parts.map(asDetail) : parts)
}

const asDetail = (part: Remark): Remark => (part.isGrade ? { ...part, histology: undefined, isGrade: false } : part)

/** What the value of a result or component says. */
function remarkHeld(holder: Json, { codes, survey }: Reading, patient: string): Remark | undefined {
  const { valueCodeableConcept: concept, valueBoolean } = holder
  if (typeof valueBoolean === 'boolean') {
    if (survey && isUnknown(codes.of(holder.code))) survey.missed('Observation.code (pathology)', holder.code, patient)
    return valueBoolean ? remarkOf(holder.code, codes) : absence(codes.of(holder.code))
  }
  if (concept === undefined) return undefined
  const remark = remarkOf(concept, codes)
  if (remark === undefined) {
    if (survey && isUnknown(codes.of(concept)))
      survey.missed('Observation.valueCodeableConcept (pathology)', concept, patient)
    return undefined
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
