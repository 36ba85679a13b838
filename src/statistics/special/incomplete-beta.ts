import { requireRange } from '../require-range.ts'
import { continuedFraction } from './continued-fraction.ts'
import { deviance } from './deviance.ts'
import { stirlingError } from './stirling-error.ts'
import type { Tails } from './tails.ts'

/**
 * xᵃ yᵇ / B(a, b): the beta density on the logit scale, for x + y = 1 given separately.
 * Source: Loader 2000, with lambda = a − (a + b)x handed to both deviance terms.
 */
export function betaWeight(x: number, y: number, a: number, b: number): number {
  const n = a + b
  const lambda = x <= y ? a - n * x : n * y - b
  const exponent = -deviance(a, n * x, lambda) - deviance(b, n * y, -lambda)
  const correction = stirlingError(n) - stirlingError(a) - stirlingError(b)
  return Math.sqrt(((a / n) * b) / (2 * Math.PI)) * Math.exp(exponent + correction)
}

/** I_x(a, b) ÷ weight where x is small: Σ (1 − b)(2 − b)…(j − b) xʲ / (j! (a + j)), Didonato and Morris 1992, eq. 4. */
function powerSeries(x: number, a: number, b: number): number {
  let term = 1
  let total = 1 / a
  for (let j = 1; ; j++) {
    term *= ((j - b) / j) * x
    const next = total + term / (a + j)
    if (next === total) return total
    total = next
  }
}

/** I_x(a, b) ÷ weight for x ≤ a/(a + b): the continued fraction of Didonato and Morris 1992, eq. 9. */
function fraction(x: number, y: number, a: number, b: number): number {
  const lambda = x <= y ? a - (a + b) * x : (a + b) * y - b
  return continuedFraction(
    (step) => {
      const n = step - 1
      const odd = a + 2 * n - 1
      const numerator = n === 0 ? 1 : ((((a + n - 1) / odd) * (a + b + n - 1)) / odd) * n * (b - n) * x * x
      const middle = n === 0 ? 0 : (n * (b - n) * x) / odd
      return { numerator, denominator: n + middle + ((a + n) / (odd + 2)) * (lambda + 1 + n * (1 + y)) }
    },
    1000 + Math.ceil(20 * Math.sqrt(a + b)),
  )
}

/**
 * Whether the series serves for I_x(a, b): its terms have one sign or stay small, and die out soon. For a ≤ 1 it also
 * serves a little beyond the mean, where the fraction would need thousands of steps if b is large.
 */
const seriesServes = (x: number, a: number, b: number): boolean => x <= 0.7 && (b <= 1 || b * x <= (a <= 1 ? 3 : 0.7))

/** I_x(a, b), not for the far side of the mean unless the series serves. */
function nearTail(x: number, y: number, a: number, b: number): number {
  const weight = betaWeight(x, y, a, b)
  if (weight === 0) return 0
  // The series stands without yᵇ; log1p keeps its digits where b is large and x small.
  if (seriesServes(x, a, b)) return weight * Math.exp(-b * Math.log1p(-x)) * powerSeries(x, a, b)
  return weight * fraction(x, y, a, b)
}

/**
 * Regularised incomplete beta function I_x(a, b) and its complement, for x + y = 1 given separately (so that an x next
 * to 1 keeps its digits in y).
 *
 * @throws {RangeError} unless 0 ≤ x, y ≤ 1, x + y = 1 and a, b are finite and above 0
 * Source: Didonato and Morris, ACM Trans Math Softw 1992;18:360-373; prefactor from Loader 2000.
 */
export function incompleteBeta(x: number, a: number, b: number, y: number = 1 - x): Tails {
  requireRange(a > 0 && b > 0 && Number.isFinite(a + b), 'incompleteBeta', 'a and b must be finite and above 0', a, b)
  requireRange(
    x >= 0 && y >= 0 && Math.abs(x + y - 1) < 1e-15,
    'incompleteBeta',
    'x and y must be from 0 to 1 and add up to 1',
    x,
    y,
  )
  if (x === 0) return { lower: 0, upper: 1 }
  if (y === 0) return { lower: 1, upper: 0 }
  const belowMean = x <= y ? (a + b) * x <= a : (a + b) * y >= b
  const below = belowMean ? !(b <= 1 && seriesServes(y, b, a)) : a <= 1 && seriesServes(x, a, b)
  const tail = below ? nearTail(x, y, a, b) : nearTail(y, x, b, a)
  const rest = Math.max(0, 1 - tail)
  return below ? { lower: tail, upper: rest } : { lower: rest, upper: tail }
}
