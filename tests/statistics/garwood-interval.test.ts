import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { garwoodInterval } from '../../src/statistics/garwood-interval.ts'

// R 4.2.2: poisson.test(x)$conf.int at 95 % and at 99.8 %, 6 decimals.
const fromR: [events: number, at95: [number, number], at998: [number, number]][] = [
  [0, [0, 3.688879], [0, 6.907755]],
  [1, [0.025318, 5.571643], [0.001001, 9.233413]],
  [2, [0.242209, 7.224688], [0.045402, 11.228872]],
  [3, [0.618672, 8.767273], [0.190533, 13.062241]],
  [5, [1.623486, 11.668332], [0.739372, 16.454745]],
  [8, [3.453832, 15.763189], [1.970814, 21.156198]],
  [10, [4.795389, 18.390356], [2.96052, 24.133971]],
  [20, [12.21652, 30.888378], [8.958213, 38.041881]],
  [50, [37.110964, 65.918767], [30.95897, 75.941892]],
  [100, [81.363991, 121.626794], [71.921397, 134.924319]],
  [1000, [938.973018, 1063.952136], [905.120791, 1101.626944]],
]

describe('exact interval of a Poisson count', () => {
  it.each(fromR)('gives for %i events what R gives', (events, at95, at998) => {
    const usual = garwoodInterval(events, 1)
    const wide = garwoodInterval(events, 1, 0.998)
    expect(usual.lower).toBeCloseTo(at95[0], 6)
    expect(usual.upper).toBeCloseTo(at95[1], 6)
    expect(wide.lower).toBeCloseTo(at998[0], 6)
    expect(wide.upper).toBeCloseTo(at998[1], 6)
  })

  it('divides by the exposure', () => {
    // Example of R's poisson.test: 137 events over 24.19893, limits 4.753124805 and 6.692709334.
    const { lower, upper } = garwoodInterval(137, 24.19893)
    expect(lower).toBeCloseTo(4.753124805, 9)
    expect(upper).toBeCloseTo(6.692709334, 9)
  })

  it('is close to the exact binomial for rare events', () => {
    // R 4.2.2: poisson.test(2, 3)$conf.int, 0.080736 to 2.408229 per 1,000.
    expect(garwoodInterval(2, 3).lower).toBeCloseTo(0.080736, 6)
    expect(garwoodInterval(2, 3).upper).toBeCloseTo(2.408229, 6)
  })

  it('holds the estimate and moves up with every further event', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (events) => {
        const { lower, upper } = garwoodInterval(events, 1)
        const next = garwoodInterval(events + 1, 1)
        expect(lower).toBeLessThanOrEqual(events)
        expect(upper).toBeGreaterThan(events)
        expect(next.lower).toBeGreaterThan(lower)
        expect(next.upper).toBeGreaterThan(upper)
      }),
      { seed: 20261125, numRuns: 300 },
    )
  })

  it.each([
    [-1, 1],
    [0.5, 1],
    [1, 0],
    [1, Number.POSITIVE_INFINITY],
  ])('refuses %f events over an exposure of %f', (events, exposure) => {
    expect(() => garwoodInterval(events, exposure)).toThrow(RangeError)
  })
})
