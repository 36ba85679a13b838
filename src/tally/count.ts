import type { MeasureDefinition } from '../measures/measure.ts'
import type { Answer } from './answer.ts'
import { type Kind, meaningOf } from './kind.ts'
import type { ApartReason } from './result.ts'
import { addValue, emptyValues, type Values } from './values.ts'

/** Sums over answer rows; nothing here divides, so parts add up in any order. */
export interface Count {
  initialPopulation: number
  excluded: number
  excepted: number
  met: number
  notMet: number
  apart: Partial<Record<ApartReason, number>>
  /** Examinations counted beside, by the place of the beside in the measure. */
  besides: number[]
  /** Only of measures that observe values. */
  values: Values | undefined
}

export const emptyCount = (measure: MeasureDefinition): Count => ({
  initialPopulation: 0,
  excluded: 0,
  excepted: 0,
  met: 0,
  notMet: 0,
  apart: {},
  besides: measure.besides.map(() => 0),
  values: measure.criteria.observation && emptyValues(measure),
})

/** Adds a number of answers that are all of one kind. */
export function addKind(count: Count, kind: Kind, times: number): void {
  const { code, inPopulation, settled, available, apart } = meaningOf(kind)
  for (const reason of apart) count.apart[reason] = (count.apart[reason] ?? 0) + times
  if (!available || !settled) return
  if (code === 'out' || code === 'eligibility-not-recorded') {
    if (inPopulation) count.initialPopulation += times
    return
  }
  if (code === 'pending') return
  count.initialPopulation += times
  if (code === 'excluded') count.excluded += times
  else if (code === 'excepted') count.excepted += times
  else if (code === 'not-met') count.notMet += times
  else if (code === 'met') count.met += times
}

/**
 * Whether an answer says more than its kind: what is counted beside; and where values are observed, all but those outside, since
 * even an answer without a value opens a range or weighs in a denominator.
 */
export const hasDetail = ({ code, besides }: Answer, isValued: boolean): boolean =>
  besides !== undefined || (isValued && code !== 'out' && code !== 'excluded')

/** Adds what one answer says beyond its kind: values, and what is counted beside. */
export function addDetail(count: Count, answer: Answer, settled: boolean): void {
  if (count.values) addValue(count.values, answer, settled)
  if (!settled || answer.besides === undefined) return
  for (const place of answer.besides) count.besides[place] = (count.besides[place] ?? 0) + 1
}
