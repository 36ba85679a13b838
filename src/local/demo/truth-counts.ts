import type { TruthAnswer } from './truth/definition.ts'
import { truthAnswer, truthPersons } from './truth.ts'
import type { TruthRow } from './truth-row.ts'

/** How many examinations gave each answer, and the sums of the values of those that have one, and of what they are parts of. */
export type TruthCounts = Readonly<Record<TruthAnswer | 'valueSum' | 'overSum', number>>

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
  overSum: 0,
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
    const keys = by === 'whole' ? [undefined] : by === 'unit' ? [row.unit] : truthPersons(measure, row)
    const { answer, value = 0, over } = truthAnswer(measure, row)
    const weight = over ?? (answer === 'met' || answer === 'notMet' ? 1 : 0)
    for (const key of keys) {
      const so = counts.get(key ?? withoutKey) ?? nothing
      // Values have three decimals: in thousandths the sum is exact.
      const valueSum = (Math.round(so.valueSum * 1000) + Math.round(value * 1000)) / 1000
      counts.set(key ?? withoutKey, { ...so, [answer]: so[answer] + 1, valueSum, overSum: so.overSum + weight })
    }
  }
  return counts
}
