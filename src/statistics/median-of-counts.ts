import { requireRange } from './require-range.ts'

/** How often each value occurs. */
export type ValueCounts = ReadonlyMap<number, number>

/**
 * Median of values that come as counts per value: the middle one, or the mean of the middle two.
 * @throws {RangeError} when there is no value, one is not finite, or a count is not whole and positive
 */
export function medianOfCounts(counts: ValueCounts): number {
  const total = totalOf(counts)
  return (valueAtRank(counts, Math.floor((total + 1) / 2)) + valueAtRank(counts, Math.ceil((total + 1) / 2))) / 2
}

/**
 * Number of values.
 * @throws {RangeError} as `medianOfCounts`
 */
export function totalOf(counts: ValueCounts): number {
  let total = 0
  for (const [value, count] of counts) {
    requireRange(
      Number.isFinite(value) && Number.isSafeInteger(count) && count > 0,
      'medianOfCounts',
      'values must be finite, and counts whole and above 0',
      value,
      count,
    )
    total += count
  }
  requireRange(total > 0, 'medianOfCounts', 'there must be a value', total)
  return total
}

/** The value of a rank from 1, in ascending order. */
export function valueAtRank(counts: ValueCounts, rank: number): number {
  let passed = 0
  for (const [value, count] of [...counts].sort(([one], [other]) => one - other)) {
    passed += count
    if (passed >= rank) return value
  }
  return Number.NaN
}
