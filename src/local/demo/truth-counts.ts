import { type TruthAnswer, truthAnswer } from './truth.ts'
import type { TruthRow } from './truth-row.ts'

/** How many examinations gave each answer, and the sum of the values of those that have one. */
export type TruthCounts = Readonly<Record<TruthAnswer | 'valueSum', number>>

/** Key of the rows that have no unit, or no operator. */
export const withoutKey = ''

const nothing: TruthCounts = {
  met: 0,
  notMet: 0,
  excluded: 0,
  excepted: 0,
  notRecorded: 0,
  pending: 0,
  eligibilityNotRecorded: 0,
  out: 0,
  valueSum: 0,
}

/**
 * Counts a measure over the examinations of a period.
 *
 * @param period civil dates, both inclusive
 * @param by what to count apart: one key '' for the whole, unit ids, or practitioner keys
 */
export function countTruth(
  rows: readonly TruthRow[],
  measure: string,
  period: { readonly start: string; readonly end: string },
  by: 'whole' | 'unit' | 'practitioner',
): Map<string, TruthCounts> {
  const counts = new Map<string, TruthCounts>()
  for (const row of rows) {
    if (row.kind !== 'examination' || row.date === undefined || row.date < period.start || row.date > period.end)
      continue
    const key = (by === 'whole' ? undefined : by === 'unit' ? row.unit : row.operator) ?? withoutKey
    const { answer, value = 0 } = truthAnswer(measure, row)
    const so = counts.get(key) ?? nothing
    // Values have three decimals: in thousandths the sum is exact.
    const valueSum = (Math.round(so.valueSum * 1000) + Math.round(value * 1000)) / 1000
    counts.set(key, { ...so, [answer]: so[answer] + 1, valueSum })
  }
  return counts
}
