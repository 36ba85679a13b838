import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { rateScale, valuesOn } from '../../src/pages/rate-scale.ts'
import type { Row } from '../../src/pages/rows.ts'
import { publishedMeasure } from '../report/published-measure.ts'
import { group, without } from './results.ts'

const detection = publishedMeasure('adenoma-detection-rate-us-2024')
const minutes = publishedMeasure('withdrawal-time-us-2024')
const perforation = publishedMeasure('perforation-rate-30-day-descriptive')

describe('the common scale', () => {
  it('runs from 0 to the next round number, and places values by hand-made arithmetic', () => {
    const scale = rateScale([0.16, 0.58, 0.35], detection)
    expect([scale?.lowest, scale?.highest]).toEqual([0, 0.6])
    // 0.15 of 0.6 is a quarter of the width, 0.3 a half, 0.45 three quarters.
    expect([0, 0.15, 0.3, 0.45, 0.6].map((value) => scale?.at(value))).toEqual(
      [0, 25, 50, 75, 100].map((percent) => expect.closeTo(percent, 9)),
    )
    expect(scale?.ticks.map(({ label }) => label.replace('\u00a0', ' '))).toEqual([
      '0 %',
      '10 %',
      '20 %',
      '30 %',
      '40 %',
      '50 %',
      '60 %',
    ])
  })

  it('leaves out the lower part when everything lies in the upper, and never passes 100 %', () => {
    const scale = rateScale([0.902, 0.98, 1], detection)
    expect([scale?.lowest, scale?.highest]).toEqual([0.9, 1])
    expect(scale?.at(0.95)).toBeCloseTo(50, 9)
    expect(rateScale([0.93, 0.9999], detection)?.highest).toBe(1)
  })

  it('is labelled in the unit of the figures: per 1,000 for events, minutes for times', () => {
    expect(rateScale([0, 0.0042], perforation)?.ticks.map(({ label }) => label)).toEqual(['0', '1', '2', '3', '4', '5'])
    const times = rateScale([6.2, 9.8, 8], minutes)
    expect(times?.ticks.at(0)?.label).toBe('6')
    expect(times?.ticks.at(-1)?.label).toBe('10')
  })

  it('exists for a single value, and for nothing but zeros', () => {
    expect(rateScale([0], detection)?.at(0)).toBe(0)
    expect(rateScale([1], detection)?.at(1)).toBeCloseTo(100, 9)
    expect(rateScale([0.4], detection)?.at(0.4)).toBeGreaterThanOrEqual(0)
    expect(rateScale([], detection)).toBeUndefined()
  })

  it('holds every value it is given, in their order', () => {
    const values = fc.array(
      fc.integer({ min: 0, max: 10_000 }).map((events) => events / 10_000),
      { minLength: 1, maxLength: 20 },
    )
    fc.assert(
      fc.property(values, (list) => {
        const places = list
          .toSorted((one, other) => one - other)
          .map((value) => rateScale(list, detection)?.at(value) ?? -1)
        expect(places[0]).toBeGreaterThanOrEqual(-1e-9)
        expect(places.at(-1)).toBeLessThanOrEqual(100 + 1e-9)
        expect(places).toEqual(places.toSorted((one, other) => one - other))
      }),
      { seed: 20261125, numRuns: 300 },
    )
  })
})

describe('what the scale must hold', () => {
  const row = (of: Row['group']): Row => ({ kind: 'practitioner', label: 'x', group: of })

  it('takes rates, intervals and the standard', () => {
    const values = valuesOn(
      [row(group(40, 100, { interval: { lower: 0.3, upper: 0.5, method: 'Wilson' } }))],
      detection,
    )
    expect(values).toEqual([0.4, 0.3, 0.5, 0.35])
  })

  it('takes the bounds instead of the rate where they are to be read', () => {
    const values = valuesOn([row(group(40, 100, { readBounds: true, bounds: { lower: 0.2, upper: 0.45 } }))], detection)
    expect(values).toEqual([0.2, 0.45, 0.35])
  })

  it('keeps the rate of a small group, but lets its interval run off', () => {
    const small = group(2, 3, { interval: { lower: 0.2, upper: 0.94, method: 'Wilson' } })
    const large = group(40, 100, { interval: { lower: 0.3, upper: 0.5, method: 'Wilson' } })
    expect(valuesOn([row(large), row(small)], detection)).toEqual([0.4, 0.3, 0.5, 2 / 3, 0.35])
    expect(valuesOn([row(small)], detection)).toEqual([2 / 3, 0.2, 0.94, 0.35])
  })

  it('takes nothing, not even the standard, where no row has a rate', () => {
    expect(valuesOn([row(without('nothing-settled'))], detection)).toEqual([])
  })
})
