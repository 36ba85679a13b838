import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { wholeNumberOf } from '../fhir/quantity.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Told } from './examinations.ts'

type Preparation = Pick<
  Colonoscopy,
  | 'preparationScale'
  | 'preparationRight'
  | 'preparationTransverse'
  | 'preparationLeft'
  | 'preparationTotal'
  | 'segmentsAllAtLeast2'
  | 'preparationLevel'
>

const segmentField = {
  'right-segment': 'preparationRight',
  'transverse-segment': 'preparationTransverse',
  'left-segment': 'preparationLeft',
} as const

/** Preparation as recorded: Boston segments or total, and a level stated in words. Judging it is the measures' business. */
export function readPreparation(observations: readonly Told[], codes: Codes): Preparation {
  // Every field from the start, so that all records have one shape.
  const facts: Preparation = {
    preparationScale: undefined,
    preparationRight: undefined,
    preparationTransverse: undefined,
    preparationLeft: undefined,
    preparationTotal: undefined,
    segmentsAllAtLeast2: undefined,
    preparationLevel: undefined,
  }
  const score = (holder: Json, site: unknown) => {
    const segment = codes.word(site, 'boston-segment-site')
    const value = wholeNumberOf(holder)
    if (segment === undefined || !Object.hasOwn(segmentField, segment) || value === undefined || value < 0 || value > 3)
      return
    const field = segmentField[segment as keyof typeof segmentField]
    // Two scores of one segment: the worse one stands.
    facts[field] = Math.min(facts[field] ?? 3, value)
  }
  let total: number | undefined
  for (const { resource: observation, code } of observations) {
    const isSegment = code.sets.has('boston-segment')
    if (isSegment) score(observation, observation.bodySite)
    if (isSegment || code.sets.has('boston-total')) {
      for (const component of asObjects(observation.component)) score(component, component.code)
      // A segment's score without its segment is no total.
      const value = isSegment ? undefined : wholeNumberOf(observation)
      if (value !== undefined && value >= 0 && value <= 9) total = Math.min(total ?? 9, value)
    }
    if (code.sets.has('preparation-observation')) {
      const word = codes.word(observation.valueCodeableConcept, 'preparation-level')
      if (word === 'adequate' || word === 'inadequate') facts.preparationLevel = word
    }
  }
  const scored: number[] = []
  for (const score of [facts.preparationRight, facts.preparationTransverse, facts.preparationLeft])
    if (score !== undefined) scored.push(score)
  if (scored.length === 3) facts.preparationTotal = scored.reduce((sum, value) => sum + value, 0)
  else if (total !== undefined) facts.preparationTotal = total
  if (scored.length > 0 || total !== undefined) facts.preparationScale = 'boston'
  else if (facts.preparationLevel !== undefined) facts.preparationScale = 'stated-level'
  facts.segmentsAllAtLeast2 = allAtLeast2(scored, scored.length === 3 ? undefined : total)
  return facts
}

/**
 * Whether every segment is 2 or 3. One segment below 2 decides; so does a total below 6 (three segments of 2 make 6) or of 8
 * and 9 (a segment of 1 leaves at most 7). Totals of 6 and 7 alone leave it open.
 */
function allAtLeast2(scored: readonly number[], total: number | undefined): boolean | undefined {
  if (scored.some((value) => value < 2)) return false
  if (scored.length === 3) return true
  if (total === undefined) return undefined
  return total < 6 ? false : total >= 8 ? true : undefined
}
