import { requireRange } from '../require-range.ts'
import { gammaWeight, incompleteGamma } from './incomplete-gamma.ts'
import { tailRoot } from './tail-root.ts'
import type { Tail } from './tails.ts'

/**
 * Point that leaves `probability` in the named tail of the gamma distribution with this shape and scale 1. The
 * chi-square quantile with k degrees of freedom is twice the one with shape k/2.
 * Solved on the log scale, in whichever tail is the smaller.
 *
 * @throws {RangeError} unless 0 ≤ probability ≤ 1 and the shape is finite and above 0
 */
export function gammaQuantile(probability: number, shape: number, tail: Tail = 'lower'): number {
  requireRange(probability >= 0 && probability <= 1, 'gammaQuantile', 'probability must be from 0 to 1', probability)
  requireRange(shape > 0 && Number.isFinite(shape), 'gammaQuantile', 'shape must be finite and above 0', shape)
  if (probability > 0.5) return gammaQuantile(1 - probability, shape, tail === 'lower' ? 'upper' : 'lower')
  if (probability === 0) return tail === 'lower' ? 0 : Number.POSITIVE_INFINITY
  // x = shape · eᵘ keeps u small for large shapes, and so keeps the digits of x.
  const u = tailRoot(
    (log) => {
      const x = shape * Math.exp(log)
      return { tail: incompleteGamma(x, shape)[tail], density: gammaWeight(x, shape) }
    },
    probability,
    0,
    tail === 'lower' ? 1 : -1,
  )
  return shape * Math.exp(u)
}
