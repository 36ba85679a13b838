import type { MeasureDefinition } from '../measures/measure.ts'
import type { Answer } from './answer.ts'

/**
 * Sums of observed values over answers. Values come in thousandths and their squares in millionths: linkage keeps three
 * decimals, so these are whole numbers and add up the same in any order.
 */
export interface Values {
  /** Over the settled examinations that have a value. */
  thousandths: number
  squareMillionths: number
  /** What the values are parts of: 1 per examination, or the things that a ratio counts; with squares and products. */
  over: number
  overSquares: number
  productThousandths: number
  /** Things that a ratio counts: outcome not recorded, and not recorded whether they belong. */
  itemsNotRecorded: number
  itemsUndecided: number
  /** How often each value occurs, in thousandths; only where a median is asked for. */
  readonly often: Map<number, number> | undefined
  /**
   * Fewest and most the sum of values could be, over settled examinations in the denominator, and what that sum would be a
   * part of; NaN once one is unbounded.
   */
  readonly settled: Range
  /** The same with pending and later examinations. */
  readonly whole: Range
}

export interface Range {
  lower: number
  upper: number
  over: number
}

export const emptyValues = ({ aggregate }: MeasureDefinition): Values => ({
  thousandths: 0,
  squareMillionths: 0,
  over: 0,
  overSquares: 0,
  productThousandths: 0,
  itemsNotRecorded: 0,
  itemsUndecided: 0,
  often: aggregate === 'median' ? new Map() : undefined,
  settled: { lower: 0, upper: 0, over: 0 },
  whole: { lower: 0, upper: 0, over: 0 },
})

/** Adds the value of one answer of the initial population and denominator. */
export function addValue(values: Values, answer: Answer, settled: boolean): void {
  const { code } = answer
  if (code === 'out' || code === 'eligibility-not-recorded' || code === 'excluded' || code === 'excepted') return
  addRange(values.whole, answer)
  if (!settled || code === 'pending') return
  addRange(values.settled, answer)
  // An examination of a denominator of examinations weighs 1 whether or not the numerator is met.
  if (code === 'not-met' && answer.over === undefined) {
    values.over += 1
    values.overSquares += 1
  }
  if (code !== 'met' || answer.value === undefined) return
  const thousandths = Math.round(answer.value * 1000)
  const over = answer.over ?? 1
  values.thousandths += thousandths
  values.squareMillionths += thousandths ** 2
  values.over += over
  values.overSquares += over ** 2
  values.productThousandths += thousandths * over
  values.itemsNotRecorded += answer.itemsNotRecorded ?? 0
  values.itemsUndecided += answer.itemsUndecided ?? 0
  if (values.often) values.often.set(thousandths, (values.often.get(thousandths) ?? 0) + 1)
}

/** Range of an examination's value: its bounds where the measure states them, else the value itself, else open. */
function addRange(range: Range, { code, value, lower, upper, over, itemsNotRecorded = 0 }: Answer): void {
  range.over += over === undefined ? 1 : over + itemsNotRecorded
  if (code === 'not-met') return
  range.lower += lower ?? value ?? 0
  range.upper += upper ?? value ?? Number.NaN
}
