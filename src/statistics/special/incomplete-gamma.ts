import { requireRange } from '../require-range.ts'
import { continuedFraction } from './continued-fraction.ts'
import { deviance } from './deviance.ts'
import { stirlingError } from './stirling-error.ts'
import type { Tails } from './tails.ts'

/** xᵃ e⁻ˣ / Γ(a): the gamma density on the log scale. Source: Loader 2000. */
export function gammaWeight(x: number, shape: number): number {
  return Math.sqrt(shape / (2 * Math.PI)) * Math.exp(-deviance(shape, x, shape - x) - stirlingError(shape))
}

/** P(a, x) ÷ weight = Σ xʲ / (a (a + 1) … (a + j)), DLMF 8.11.4. */
function powerSeries(x: number, shape: number): number {
  let term = 1 / shape
  let total = term
  for (let j = 1; ; j++) {
    term *= x / (shape + j)
    const next = total + term
    if (next === total) return total
    total = next
  }
}

/** Q(a, x) ÷ weight: Legendre's continued fraction, DLMF 8.9.2 in its even form. */
function fraction(x: number, shape: number): number {
  return continuedFraction(
    (n) => ({ numerator: n === 1 ? 1 : (n - 1) * (shape - n + 1), denominator: x - shape + 2 * n - 1 }),
    1000 + Math.ceil(20 * Math.sqrt(shape)),
  )
}

/**
 * Regularised incomplete gamma functions: `lower` P(a, x) and `upper` Q(a, x), for shape a.
 *
 * @throws {RangeError} unless 0 ≤ x and the shape is finite and above 0
 * Source: DLMF 8.9 and 8.11; prefactor from Loader 2000.
 */
export function incompleteGamma(x: number, shape: number): Tails {
  requireRange(shape > 0 && Number.isFinite(shape), 'incompleteGamma', 'shape must be finite and above 0', shape)
  requireRange(x >= 0, 'incompleteGamma', 'x must not be negative', x)
  if (x === 0) return { lower: 0, upper: 1 }
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 }
  const weight = gammaWeight(x, shape)
  if (x <= shape + 1) {
    const lower = Math.min(1, weight * powerSeries(x, shape))
    return { lower, upper: 1 - lower }
  }
  const upper = weight === 0 ? 0 : weight * fraction(x, shape)
  return { lower: 1 - upper, upper }
}
