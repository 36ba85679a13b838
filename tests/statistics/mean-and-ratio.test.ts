import fc from 'fast-check'
import { mean, sum, sumSimple, variance } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { meanInterval } from '../../src/statistics/mean-interval.ts'
import { meanOfCounts, type RatioSums, ratioInterval, ratioStandardError } from '../../src/statistics/ratio-interval.ts'

const seeded = { seed: 20261125, numRuns: 300 }

/** Bliss and Fisher, Biometrics 1953;9:176-200: red mites on 150 apple leaves, number of leaves with 0, 1, … 7 mites. */
const mites = [70, 38, 17, 10, 9, 3, 2, 1].flatMap((leaves, count) => Array.from({ length: leaves }, () => count))
const squares = (values: readonly number[]): number => sum(values.map((value) => value * value))

/** Deaths and operations in 12 hospitals: the "Surgical" example of the BUGS manual. */
const surgical = {
  deaths: [0, 18, 8, 46, 8, 13, 9, 31, 14, 8, 29, 24],
  operations: [47, 148, 119, 810, 211, 196, 148, 215, 207, 97, 256, 360],
}
const sumsOf = (y: readonly number[], x: readonly number[]): RatioSums => ({
  count: y.length,
  y: sum([...y]),
  yy: squares(y),
  x: sum([...x]),
  xy: sum(y.map((value, index) => value * (x[index] ?? Number.NaN))),
  xx: squares(x),
})

describe('interval of a mean', () => {
  it('gives for the red mites what R gives', () => {
    // R 4.2.2: t.test(mites)$conf.int = 0.9033871 to 1.3899463.
    const interval = meanInterval(mites.length, sum(mites), squares(mites))
    expect(interval?.lower).toBeCloseTo(0.9033871, 7)
    expect(interval?.upper).toBeCloseTo(1.3899463, 7)
  })

  it('is centred on the mean, and narrows as s/√n', () => {
    const minutes = fc.array(
      fc.integer({ min: 20, max: 400 }).map((tenths) => tenths / 10),
      { minLength: 3, maxLength: 60 },
    )
    fc.assert(
      fc.property(minutes, (values) => {
        fc.pre(variance(values) > 1e-9)
        const interval = meanInterval(values.length, sumSimple(values), squares(values))
        expect(((interval?.lower ?? Number.NaN) + (interval?.upper ?? Number.NaN)) / 2).toBeCloseTo(mean(values), 9)
        expect(interval?.upper).toBeGreaterThan(mean(values))
      }),
      seeded,
    )
  })

  it('has no interval where all values are the same, instead of one without width', () => {
    expect(meanInterval(5, 40, 320)).toBeUndefined()
    expect(meanInterval(30, 30 * 7.1, 30 * 7.1 * 7.1)).toBeUndefined()
  })

  it.each([
    [1, 8, 64],
    [2.5, 8, 64],
    [3, 9, 1],
    [3, Number.NaN, 1],
  ])('refuses %f values with sum %f and squares %f', (count, total, squareTotal) => {
    expect(() => meanInterval(count, total, squareTotal)).toThrow(RangeError)
  })
})

describe('interval of a ratio of sums', () => {
  it('gives for the hospitals the standard error and logit interval of R’s survey package', () => {
    // R 4.2.2, survey 4.1-1: svyratio(~r, ~n, svydesign(id = ~h, weights = ~1)) SE 0.009518588; svyciprop(method = "logit").
    const sums = sumsOf(surgical.deaths, surgical.operations)
    expect(sums.y / sums.x).toBeCloseTo(0.07391613, 8)
    expect(ratioStandardError(sums)).toBeCloseTo(0.009518588, 9)
    const interval = ratioInterval(sums, 'logit')
    expect(interval?.lower).toBeCloseTo(0.05550962, 8)
    expect(interval?.upper).toBeCloseTo(0.09779412, 8)
  })

  it('has for a mean of counts the standard error s/√n, and on the log scale the limits of scipy', () => {
    // R 4.2.2: sqrt(var(mites) / 150), var 2.273646532. scipy 1.17.1: m·exp(∓t.ppf(.975, 149)·se/m).
    const sums = meanOfCounts(mites.length, sum(mites), squares(mites))
    expect(ratioStandardError(sums)).toBeCloseTo(Math.sqrt(2.273646532 / 150), 9)
    const interval = ratioInterval(sums, 'log')
    expect(interval?.lower).toBeCloseTo(0.9274621875595975, 12)
    expect(interval?.upper).toBeCloseTo(1.417679838683401, 12)
  })

  it('is wider than a Poisson interval for lesions that cluster in patients', () => {
    // R 4.2.2: poisson.test(172, 150)$conf.int = 0.9817011 to 1.3314200, too narrow for these counts.
    const interval = ratioInterval(meanOfCounts(150, 172, squares(mites)), 'log')
    expect(interval?.lower).toBeLessThan(0.9817011)
    expect(interval?.upper).toBeGreaterThan(1.33142)
  })

  const clusters = fc.array(
    fc.integer({ min: 1, max: 40 }).chain((x) => fc.tuple(fc.integer({ min: 0, max: x }), fc.constant(x))),
    { minLength: 2, maxLength: 40 },
  )

  it('holds the ratio, and stays within the range of its scale', () => {
    fc.assert(
      fc.property(clusters, (pairs) => {
        const sums = sumsOf(
          pairs.map(([y]) => y),
          pairs.map(([, x]) => x),
        )
        const ratio = sums.y / sums.x
        for (const scale of ['log', 'logit'] as const) {
          const interval = ratioInterval(sums, scale)
          if (!interval) continue
          expect(interval.lower).toBeGreaterThanOrEqual(0)
          expect(interval.lower).toBeLessThan(ratio)
          expect(interval.upper).toBeGreaterThan(ratio)
          if (scale === 'logit') expect(interval.upper).toBeLessThanOrEqual(1)
        }
      }),
      seeded,
    )
  })

  it('mirrors itself for the complement on the logit scale', () => {
    fc.assert(
      fc.property(clusters, (pairs) => {
        const x = pairs.map(([, one]) => one)
        const interval = ratioInterval(
          sumsOf(
            pairs.map(([y]) => y),
            x,
          ),
          'logit',
        )
        const mirrored = ratioInterval(
          sumsOf(
            pairs.map(([y, one]) => one - y),
            x,
          ),
          'logit',
        )
        fc.pre(interval !== undefined && mirrored !== undefined)
        expect(mirrored?.lower).toBeCloseTo(1 - (interval?.upper ?? Number.NaN), 8)
        expect(mirrored?.upper).toBeCloseTo(1 - (interval?.lower ?? Number.NaN), 8)
      }),
      seeded,
    )
  })

  it('has no interval where nothing was found, or every cluster has the same ratio', () => {
    expect(ratioInterval(meanOfCounts(12, 0, 0), 'log')).toBeUndefined()
    expect(ratioInterval(sumsOf([2, 4, 6], [10, 20, 30]), 'logit')).toBeUndefined()
    expect(ratioInterval(sumsOf([10, 20], [10, 20]), 'logit')).toBeUndefined()
  })

  it('refuses a single cluster, a negative sum, a denominator of 0, and more than all on the logit scale', () => {
    expect(() => ratioInterval(meanOfCounts(1, 2, 4), 'log')).toThrow(/count must be whole and at least 2/)
    expect(() => ratioInterval({ ...meanOfCounts(3, 2, 4), y: -1 }, 'log')).toThrow(RangeError)
    expect(() => ratioInterval({ ...meanOfCounts(3, 2, 4), x: 0 }, 'log')).toThrow(RangeError)
    expect(() => ratioInterval(meanOfCounts(3, 5, 9), 'logit')).toThrow(/must not exceed x/)
  })
})
