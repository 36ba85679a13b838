import type { Interval } from './interval.ts'
import { tailArea, usualLevel } from './level.ts'
import { totalOf, type ValueCounts, valueAtRank } from './median-of-counts.ts'
import { incompleteBeta } from './special/incomplete-beta.ts'

/**
 * Interval for a median by order statistics: the values of ranks k and n + 1 − k, k being the largest whole number with
 *   P(Bin(n, 1/2) ≤ k − 1) ≤ α/2
 * It holds for any distribution, is at least as wide as promised, and may lie unevenly about the median.
 * Source: Conover, Practical Nonparametric Statistics, 3rd ed 1999, 3.2 (from memory).
 *
 * @param counts how often each value occurs
 * @returns undefined where there are too few values for such a rank to exist (fewer than 6 for 95 %)
 * @throws {RangeError} when there is no value, one is not finite, a count is not whole and positive; unless 0 < level < 1
 */
export function medianInterval(counts: ValueCounts, level: number = usualLevel): Interval | undefined {
  const total = totalOf(counts)
  const rank = medianRank(total, tailArea(level, 'medianInterval'))
  if (rank === 0) return undefined
  return { lower: valueAtRank(counts, rank), upper: valueAtRank(counts, total + 1 - rank) }
}

/** Largest k with P(Bin(n, 1/2) ≤ k − 1) ≤ area, 0 where none exists; the probability rises with k, so halving finds it. */
export function medianRank(total: number, area: number): number {
  let least = 0
  let most = Math.ceil(total / 2)
  while (least < most) {
    const middle = Math.ceil((least + most) / 2)
    if (fairTail(middle - 1, total) <= area) least = middle
    else most = middle - 1
  }
  return least
}

/** P(Bin(n, 1/2) ≤ k) = I(1/2; n − k, k + 1). Source: Abramowitz and Stegun 26.5.24. */
const fairTail = (successes: number, total: number): number =>
  successes >= total ? 1 : incompleteBeta(0.5, total - successes, successes + 1).lower
