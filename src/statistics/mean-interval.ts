import type { Interval } from './interval.ts'
import { tailArea, usualLevel } from './level.ts'
import { requireRange } from './require-range.ts'
import { studentTQuantile } from './special/student-t-quantile.ts'

/**
 * Student's t interval for the mean of `count` values, from their sum and the sum of their squares.
 *   s² = (Σy² − (Σy)²/n) / (n − 1); mean ± t(1 − α/2; n − 1) · s/√n
 * Meant for values such as minutes; a mean of counts that must not fall below 0 has `ratioInterval`.
 *
 * @returns undefined when all values are equal: no spread was seen, and an interval of no width would claim certainty
 * @throws {RangeError} unless count is whole and at least 2, the sums are finite and possible (n Σy² ≥ (Σy)²), and 0 < level < 1
 * Source: Student, Biometrika 1908;6:1-25.
 */
export function meanInterval(
  count: number,
  sum: number,
  sumOfSquares: number,
  level: number = usualLevel,
): Interval | undefined {
  requireRange(
    Number.isSafeInteger(count) && count >= 2,
    'meanInterval',
    'count must be whole and at least 2, as one value shows no spread',
    count,
  )
  const mean = sum / count
  const squares = sumOfSquares - sum * mean
  // Sums of rounded values carry rounding of their own; below this the difference is nothing but that.
  const rounding = 1e-12 * sumOfSquares
  requireRange(
    Number.isFinite(sum) && Number.isFinite(sumOfSquares) && squares >= -rounding,
    'meanInterval',
    'sums must be finite, with count · sumOfSquares ≥ sum²',
    sum,
    sumOfSquares,
  )
  const area = tailArea(level, 'meanInterval')
  if (squares <= rounding) return undefined
  const half = -studentTQuantile(area, count - 1) * Math.sqrt(squares / (count - 1) / count)
  return { lower: mean - half, upper: mean + half }
}
