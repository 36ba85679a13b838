import type { Interval } from './interval.ts'
import { tailArea, usualLevel } from './level.ts'
import { requireRange } from './require-range.ts'
import { studentTQuantile } from './special/student-t-quantile.ts'

/**
 * Sums over clusters (examinations, or practitioners) of a numerator y and a denominator x. With one per examination in
 * the denominator (x = 1), the ratio is the mean of a count per examination, and `meanOfCounts` fills them.
 */
export interface RatioSums {
  /** Clusters. */
  readonly count: number
  readonly y: number
  readonly yy: number
  readonly x: number
  readonly xy: number
  readonly xx: number
}

/** Scale on which the interval is symmetric: `log` for a ratio that must stay above 0, `logit` for one within 0 and 1. */
export type RatioScale = 'log' | 'logit'

/** Sums of a count per examination. */
export const meanOfCounts = (examinations: number, sum: number, sumOfSquares: number): RatioSums => ({
  count: examinations,
  y: sum,
  yy: sumOfSquares,
  x: examinations,
  xy: sum,
  xx: examinations,
})

/**
 * Standard error of the ratio R = Σy/Σx by linearisation, clusters being the independent units:
 *   v(R) = n/(n − 1) · (Σy² − 2R Σxy + R² Σx²) / (Σx)²
 * Polyps of one examination are alike, so a binomial or Poisson error would be too small.
 * Source: Cochran, Sampling Techniques, 3rd ed 1977, 6.5 and 10.
 *
 * @throws {RangeError} unless count is whole and at least 2, all sums are finite, none negative, and x > 0
 */
export function ratioStandardError(sums: RatioSums): number {
  const { count, y, yy, x, xy, xx } = sums
  requireRange(
    Number.isSafeInteger(count) && count >= 2,
    'ratioInterval',
    'count must be whole and at least 2, as one cluster shows no spread',
    count,
  )
  requireRange(
    [y, yy, xy, xx].every((sum) => sum >= 0 && Number.isFinite(sum)) && x > 0 && Number.isFinite(x),
    'ratioInterval',
    'sums must be finite and not negative, and x above 0',
    y,
    yy,
    x,
    xy,
    xx,
  )
  const ratio = y / x
  const squares = yy - 2 * ratio * xy + ratio * ratio * xx
  // Below this the difference of sums is rounding.
  const spread = squares > 1e-12 * yy ? squares : 0
  return Math.sqrt((count / (count - 1)) * spread) / x
}

/**
 * Interval for the ratio of two sums: g(R) ± t(1 − α/2; n − 1) · se(R) · g′(R), taken back by g⁻¹, with g the log or
 * the logit. Student's t because the variance is estimated from the same clusters; the transformed scale because a ratio
 * of counts is skewed and must not fall below 0 (or leave 0 to 1).
 * Source: delta method; Korn and Graubard, Surv Methodol 1998;24:193-201 for the logit with t.
 *
 * @returns undefined where no spread was seen (y = 0 throughout, or the same ratio in every cluster)
 * @throws {RangeError} as `ratioStandardError`; on the logit scale also when y > x; unless 0 < level < 1
 */
export function ratioInterval(sums: RatioSums, scale: RatioScale, level: number = usualLevel): Interval | undefined {
  const error = ratioStandardError(sums)
  const ratio = sums.y / sums.x
  requireRange(scale === 'log' || ratio <= 1, 'ratioInterval', 'y must not exceed x on the logit scale', sums.y, sums.x)
  const t = -studentTQuantile(tailArea(level, 'ratioInterval'), sums.count - 1)
  if (error === 0) return undefined
  if (scale === 'log') {
    const factor = Math.exp((t * error) / ratio)
    return { lower: ratio / factor, upper: ratio * factor }
  }
  const odds = ratio / (1 - ratio)
  const factor = Math.exp((t * error) / (ratio * (1 - ratio)))
  return { lower: odds / factor / (1 + odds / factor), upper: (odds * factor) / (1 + odds * factor) }
}
