import { requireRange } from '../require-range.ts'
import { betaWeight, incompleteBeta } from './incomplete-beta.ts'
import { tailRoot } from './tail-root.ts'
import type { Tail } from './tails.ts'

/** A point of the beta distribution as x and y = 1 − x, both to full relative precision. */
export interface BetaPoint {
  readonly x: number
  readonly y: number
}

/**
 * Point that leaves `probability` in the named tail of the beta distribution with shapes a and b.
 * Solved on the logit scale, in whichever tail is the smaller.
 *
 * @throws {RangeError} unless 0 ≤ probability ≤ 1 and a, b are finite and above 0
 * Source: inverse of Didonato and Morris 1992 by Newton's method (`tail-root.ts`).
 */
export function betaPoint(probability: number, a: number, b: number, tail: Tail = 'lower'): BetaPoint {
  requireRange(probability >= 0 && probability <= 1, 'betaQuantile', 'probability must be from 0 to 1', probability)
  requireRange(a > 0 && b > 0 && Number.isFinite(a + b), 'betaQuantile', 'a and b must be finite and above 0', a, b)
  if (probability > 0.5) return betaPoint(1 - probability, a, b, tail === 'lower' ? 'upper' : 'lower')
  if (probability === 0) return tail === 'lower' ? { x: 0, y: 1 } : { x: 1, y: 0 }
  const at = (u: number): BetaPoint => ({ x: 1 / (1 + Math.exp(-u)), y: 1 / (1 + Math.exp(u)) })
  const u = tailRoot(
    (logit) => {
      const { x, y } = at(logit)
      return { tail: incompleteBeta(x, a, b, y)[tail], density: betaWeight(x, y, a, b) }
    },
    probability,
    Math.log(a / b),
    tail === 'lower' ? 1 : -1,
  )
  return at(u)
}

/** Quantile of the beta distribution: `betaPoint(…).x`. */
export function betaQuantile(probability: number, a: number, b: number, tail: Tail = 'lower'): number {
  return betaPoint(probability, a, b, tail).x
}
