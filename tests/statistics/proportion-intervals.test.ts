import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clopperPearsonInterval } from '../../src/statistics/clopper-pearson-interval.ts'
import { wilsonInterval } from '../../src/statistics/wilson-interval.ts'

// Newcombe, Stat Med 1998;17:857-872, Table I: method 3 (Wilson) and method 5 (Clopper-Pearson), 95 %.
const newcombe: [events: number, trials: number, wilson: [number, number], exact: [number, number]][] = [
  [81, 263, [0.2553, 0.3662], [0.2527, 0.3676]],
  [15, 148, [0.0624, 0.1605], [0.0578, 0.1617]],
  [0, 20, [0, 0.1611], [0, 0.1684]],
  [1, 29, [0.0061, 0.1718], [0.0009, 0.1776]],
]

// R 4.2.2: prop.test(x, n, correct = FALSE)$conf.int and binom.test(x, n)$conf.int, 8 decimals.
const fromR: typeof newcombe = [
  [81, 263, [0.25528852, 0.36620958], [0.25273675, 0.36762192]],
  [15, 148, [0.0623864, 0.16048724], [0.05784401, 0.16165049]],
  [0, 20, [0, 0.16112516], [0, 0.16843347]],
  [1, 29, [0.00611321, 0.17175522], [0.00087265, 0.1776443]],
  [20, 20, [0.83887484, 1], [0.83156653, 1]],
  [0, 1, [0, 0.79345069], [0, 0.975]],
  [1, 1, [0.20654931, 1], [0.025, 1]],
  [5, 10, [0.23659309, 0.76340691], [0.18708603, 0.81291397]],
  [25, 100, [0.17545211, 0.34304464], [0.16877974, 0.3465525]],
  [3, 1000, [0.00102078, 0.00878301], [0.0006191, 0.00874202]],
  [3, 100_000, [0.0000102, 0.00008821], [0.00000619, 0.00008767]],
  [2500, 10_000, [0.24161019, 0.25858181], [0.24153688, 0.25860895]],
]

const methods = { wilson: wilsonInterval, exact: clopperPearsonInterval }

describe('intervals of one proportion', () => {
  it.each(newcombe)('gives for %i of %i what Newcombe 1998 prints', (events, trials, wilson, exact) => {
    expect(wilsonInterval(events, trials).lower).toBeCloseTo(wilson[0], 4)
    expect(wilsonInterval(events, trials).upper).toBeCloseTo(wilson[1], 4)
    expect(clopperPearsonInterval(events, trials).lower).toBeCloseTo(exact[0], 4)
    expect(clopperPearsonInterval(events, trials).upper).toBeCloseTo(exact[1], 4)
  })

  it.each(fromR)('gives for %i of %i what R gives', (events, trials, wilson, exact) => {
    expect(wilsonInterval(events, trials).lower).toBeCloseTo(wilson[0], 8)
    expect(wilsonInterval(events, trials).upper).toBeCloseTo(wilson[1], 8)
    expect(clopperPearsonInterval(events, trials).lower).toBeCloseTo(exact[0], 8)
    expect(clopperPearsonInterval(events, trials).upper).toBeCloseTo(exact[1], 8)
  })

  it('gives at 99.8 % what R gives for 81 of 263', () => {
    // R 4.2.2: prop.test(81, 263, conf.level = .998, correct = FALSE) and binom.test(81, 263, conf.level = .998).
    const wilson = wilsonInterval(81, 263, 0.998)
    const exact = clopperPearsonInterval(81, 263, 0.998)
    expect([wilson.lower, wilson.upper]).toEqual([expect.closeTo(0.2280357402, 10), expect.closeTo(0.4013894219, 10)])
    expect([exact.lower, exact.upper]).toEqual([expect.closeTo(0.2239376079, 10), expect.closeTo(0.4019823196, 10)])
  })

  // Two-sided exact limit after no event is 1 − 0.025^(1/n); Hanley and Lippman-Hand, JAMA 1983;249:1743, for 0 of 14.
  it.each([14, 20, 200, 300, 1000])('cannot rule out 1 − 0.025^(1/n) after no event in %i', (trials) => {
    const closedForm = -Math.expm1(Math.log(0.025) / trials)
    const { lower, upper } = clopperPearsonInterval(0, trials)
    expect(lower).toBe(0)
    expect(Math.abs(upper / closedForm - 1)).toBeLessThan(1e-12)
  })

  it.each([
    [14, 0.2316358],
    [300, 0.012221],
    [200, 0.0182753],
    [1000, 0.0036821],
  ])('puts the upper limit after no event in %i at %f, as R does', (trials, expected) => {
    expect(clopperPearsonInterval(0, trials).upper).toBeCloseTo(expected, 7)
  })

  it('gives for 2 of 3,000 what R gives, and Wilson’s lower limit is the one that is far off', () => {
    // R 4.2.2, per 1,000: binom.test 0.080747 to 2.406133; prop.test 0.182843 to 2.427634.
    const exact = clopperPearsonInterval(2, 3000)
    const wilson = wilsonInterval(2, 3000)
    expect(exact.lower * 1000).toBeCloseTo(0.080747, 6)
    expect(exact.upper * 1000).toBeCloseTo(2.406133, 6)
    expect(wilson.lower * 1000).toBeCloseTo(0.182843, 6)
    expect(wilson.upper * 1000).toBeCloseTo(2.427634, 6)
  })

  const seeded = { seed: 20261125, numRuns: 300 }
  const counts = fc
    .integer({ min: 1, max: 20_000 })
    .chain((n) => fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n)))

  describe.each(Object.entries(methods))('%s', (_name, interval) => {
    it('holds the estimate, and stays within 0 and 1', () => {
      fc.assert(
        fc.property(counts, ([events, trials]) => {
          const { lower, upper } = interval(events, trials)
          expect(lower).toBeGreaterThanOrEqual(0)
          expect(lower).toBeLessThanOrEqual(events / trials)
          expect(upper).toBeGreaterThanOrEqual(events / trials)
          expect(upper).toBeLessThanOrEqual(1)
        }),
        seeded,
      )
    })

    it('moves up with every further event', () => {
      fc.assert(
        fc.property(counts, ([events, trials]) => {
          fc.pre(events < trials)
          expect(interval(events + 1, trials).lower).toBeGreaterThan(interval(events, trials).lower)
          expect(interval(events + 1, trials).upper).toBeGreaterThan(interval(events, trials).upper)
        }),
        seeded,
      )
    })

    it('mirrors itself for the complement', () => {
      fc.assert(
        fc.property(counts, ([events, trials]) => {
          const { lower, upper } = interval(events, trials)
          const mirrored = interval(trials - events, trials)
          expect(mirrored.lower).toBeCloseTo(1 - upper, 12)
          expect(mirrored.upper).toBeCloseTo(1 - lower, 12)
        }),
        seeded,
      )
    })

    it('widens with the level', () => {
      fc.assert(
        fc.property(counts, ([events, trials]) => {
          const narrow = interval(events, trials, 0.95)
          const wide = interval(events, trials, 0.998)
          expect(wide.upper - wide.lower).toBeGreaterThan(narrow.upper - narrow.lower)
        }),
        seeded,
      )
    })

    it.each([
      [0, 0],
      [3, 2],
      [-1, 5],
      [1.5, 5],
      [1, Number.NaN],
    ])('refuses %f events of %f', (events, trials) => {
      expect(() => interval(events, trials)).toThrow(/Interval: events and trials must be whole.*got/)
    })

    it.each([0, 1, Number.NaN])('refuses a level of %f', (level) => {
      expect(() => interval(1, 2, level)).toThrow(/level must be between 0 and 1; got/)
    })
  })

  it('covers at least 95 % whatever the true rate, when exact', () => {
    // The defining law of the exact interval: sum of binomial probabilities of the counts whose interval holds the truth.
    const trials = 50
    const intervals = Array.from({ length: trials + 1 }, (_, events) => clopperPearsonInterval(events, trials))
    for (let truth = 0.005; truth < 1; truth += 0.005) {
      let probability = (1 - truth) ** trials
      let covered = 0
      for (const [events, { lower, upper }] of intervals.entries()) {
        if (lower <= truth && truth <= upper) covered += probability
        probability *= ((trials - events) / (events + 1)) * (truth / (1 - truth))
      }
      expect(covered).toBeGreaterThanOrEqual(0.95)
    }
  })
})
