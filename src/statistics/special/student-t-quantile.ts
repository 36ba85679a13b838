import { requireRange } from '../require-range.ts'
import { betaPoint } from './beta-quantile.ts'

/**
 * Quantile of Student's t with `freedom` degrees of freedom at a lower-tail probability.
 *   2 · P(T ≤ −t) = I_w(ν/2, ½) with w = ν/(ν + t²), so t² = ν(1 − w)/w; 1 − w comes to full precision from `betaPoint`.
 *
 * @throws {RangeError} unless 0 < probability < 1 and the degrees of freedom are finite and above 0
 * Source: DLMF 8.17; Abramowitz and Stegun 26.7.1.
 */
export function studentTQuantile(probability: number, freedom: number): number {
  requireRange(
    probability > 0 && probability < 1,
    'studentTQuantile',
    'probability must be between 0 and 1, ends excluded',
    probability,
  )
  requireRange(
    freedom > 0 && Number.isFinite(freedom),
    'studentTQuantile',
    'degrees of freedom must be finite and above 0',
    freedom,
  )
  if (probability === 0.5) return 0
  if (probability > 0.5) return -studentTQuantile(1 - probability, freedom)
  const { x, y } =
    probability <= 0.25
      ? betaPoint(2 * probability, freedom / 2, 0.5)
      : betaPoint(1 - 2 * probability, freedom / 2, 0.5, 'upper')
  return -Math.sqrt((freedom * y) / x)
}
