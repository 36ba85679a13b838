import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { betaPoint, betaQuantile } from '../../../src/statistics/special/beta-quantile.ts'
import { gammaQuantile } from '../../../src/statistics/special/gamma-quantile.ts'
import { incompleteBeta } from '../../../src/statistics/special/incomplete-beta.ts'
import { incompleteGamma } from '../../../src/statistics/special/incomplete-gamma.ts'
import { logGamma } from '../../../src/statistics/special/log-gamma.ts'
import { normalQuantile } from '../../../src/statistics/special/normal-quantile.ts'
import { studentTQuantile } from '../../../src/statistics/special/student-t-quantile.ts'
import { relativeError } from './r-grid.ts'

const seeded = { seed: 20261125, numRuns: 500 }
const probability = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true })
/** Shapes from one half to a million, as often small as large. */
const shape = fc.double({ min: Math.log(0.5), max: Math.log(1e6), noNaN: true }).map(Math.exp)

describe('laws of the special functions', () => {
  it('gives I_x(a, b) + I_{1−x}(b, a) = 1', () => {
    fc.assert(
      fc.property(probability, shape, shape, (x, a, b) => {
        const y = 1 - x
        const sum = incompleteBeta(x, a, b, y).lower + incompleteBeta(y, b, a, x).lower
        expect(Math.abs(sum - 1)).toBeLessThan(1e-14)
      }),
      seeded,
    )
  })

  it('steps from a to a + 1 by xᵃ(1 − x)ᵇ / (a B(a, b)) (DLMF 8.17.20)', () => {
    const small = fc.double({ min: 0.5, max: 40, noNaN: true })
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), small, small, (x, a, b) => {
        const logBeta = logGamma(a) + logGamma(b) - logGamma(a + b)
        const step = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta) / a
        const got = incompleteBeta(x, a, b).lower - incompleteBeta(x, a + 1, b).lower
        expect(Math.abs(got - step)).toBeLessThan(1e-13)
      }),
      seeded,
    )
  })

  it('finds the probability again at its beta quantile, in either tail', () => {
    fc.assert(
      fc.property(probability, shape, shape, fc.constantFrom('lower', 'upper'), (p, a, b, tail) => {
        const { x, y } = betaPoint(p, a, b, tail)
        // Where x is a double next to 1 or 0, a last digit of it moves the tail by this much.
        const grain = 4e-16 * (a + b)
        expect(relativeError(incompleteBeta(x, a, b, y)[tail], p)).toBeLessThan(1e-11 + grain)
      }),
      seeded,
    )
  })

  it('finds the probability again at its gamma quantile, in either tail', () => {
    fc.assert(
      fc.property(probability, shape, fc.constantFrom('lower', 'upper'), (p, a, tail) => {
        expect(relativeError(incompleteGamma(gammaQuantile(p, a, tail), a)[tail], p)).toBeLessThan(1e-11)
      }),
      seeded,
    )
  })

  it('rises with the probability', () => {
    fc.assert(
      fc.property(probability, probability, shape, shape, (one, other, a, b) => {
        const [less, more] = one < other ? [one, other] : [other, one]
        fc.pre(more - less > 1e-9)
        expect(betaQuantile(less, a, b)).toBeLessThanOrEqual(betaQuantile(more, a, b))
        expect(gammaQuantile(less, a)).toBeLessThan(gammaQuantile(more, a))
        expect(normalQuantile(less)).toBeLessThan(normalQuantile(more))
        expect(studentTQuantile(less, a)).toBeLessThan(studentTQuantile(more, a))
      }),
      seeded,
    )
  })

  it('takes the whole distribution at probabilities 0 and 1', () => {
    expect([betaQuantile(0, 2, 3), betaQuantile(1, 2, 3)]).toEqual([0, 1])
    expect([gammaQuantile(0, 2), gammaQuantile(1, 2)]).toEqual([0, Number.POSITIVE_INFINITY])
    expect(incompleteBeta(0, 2, 3)).toEqual({ lower: 0, upper: 1 })
    expect(incompleteBeta(1, 2, 3)).toEqual({ lower: 1, upper: 0 })
    expect(incompleteGamma(0, 2)).toEqual({ lower: 0, upper: 1 })
    expect(incompleteGamma(Number.POSITIVE_INFINITY, 2)).toEqual({ lower: 1, upper: 0 })
  })

  it.each([
    ['a probability above 1', () => betaQuantile(1.1, 1, 1)],
    ['a shape of 0', () => betaQuantile(0.5, 0, 1)],
    ['a shape that is no number', () => gammaQuantile(0.5, Number.NaN)],
    ['a probability below 0', () => gammaQuantile(-0.1, 1)],
    ['a normal quantile at 0', () => normalQuantile(0)],
    ['a t quantile without degrees of freedom', () => studentTQuantile(0.5, 0)],
    ['a t quantile at 1', () => studentTQuantile(1, 5)],
    ['an x beyond 1', () => incompleteBeta(1.5, 1, 1)],
    ['a negative x', () => incompleteGamma(-1, 1)],
    ['log-gamma at 0', () => logGamma(0)],
  ])('refuses %s, naming method, rule and value', (_case, call) => {
    expect(call).toThrow(RangeError)
    expect(call).toThrow(/^\w+: .+; got [-\w., ]+$/)
  })
})
