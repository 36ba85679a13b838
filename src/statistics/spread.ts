import { max, median, min } from 'simple-statistics'
import { requireRange } from './require-range.ts'

export interface Spread {
  readonly least: number
  readonly median: number
  readonly most: number
}

/**
 * Least, median and most of some values, for example examinations per practitioner. The median of an even number of
 * values is the mean of the middle two.
 *
 * @throws {RangeError} when there is no value, or one is not finite
 */
export function spreadOf(values: readonly number[]): Spread {
  requireRange(
    values.length > 0 && values.every(Number.isFinite),
    'spreadOf',
    'values must be finite, at least one',
    ...values,
  )
  const list = [...values]
  return { least: min(list), median: median(list), most: max(list) }
}
