import { requireRange } from '../require-range.ts'
import { stirlingError } from './stirling-error.ts'

const halfLogTwoPi = 0.9189385332046727

/**
 * Natural logarithm of the gamma function, for x > 0, by Stirling's formula and its error.
 * Near the zeros at 1 and 2 the absolute error stays near 1e-15, so the relative error does not.
 * Source: DLMF 5.11.1; Loader 2000 for the form.
 *
 * @throws {RangeError} unless x is finite and above 0
 */
export function logGamma(x: number): number {
  requireRange(x > 0 && Number.isFinite(x), 'logGamma', 'x must be finite and above 0', x)
  // Γ(x) = Γ(x + 1) / x: close to 0 Stirling's formula is the difference of two large numbers.
  if (x < 1) return logGamma(x + 1) - Math.log(x)
  return (x - 0.5) * Math.log(x) - x + halfLogTwoPi + stirlingError(x)
}
