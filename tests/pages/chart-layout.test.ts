import { describe, expect, it } from 'vitest'
import { chartLayout } from '../../src/pages/chart-layout.ts'
import { type Row, rowsOf } from '../../src/pages/rows.ts'
import { publishedMeasure } from '../report/published-measure.ts'
import { group, harbour, intubation, unsettled, without } from './results.ts'

const detection = publishedMeasure('adenoma-detection-rate-us-2024')
const row = (label: string, of: Row['group'], kind: Row['kind'] = 'practitioner'): Row => ({ kind, label, group: of })
const interval = (lower: number, upper: number) => ({ interval: { lower, upper, method: 'Wilson' } })

describe('the chart', () => {
  it('puts every rate, interval and standard on one scale', () => {
    // The scale is 0 to 60 %: 0.3 lies at 50, 0.24 at 40, 0.36 at 60; the minimum of 0.35 at 58.33.
    const layout = chartLayout(
      [row('All', group(300, 1000, interval(0.24, 0.36)), 'whole'), row('A', group(48, 100, interval(0.39, 0.57)))],
      detection,
    )
    expect(layout?.rows.map(({ mark }) => mark)).toEqual([
      {
        kind: 'rate',
        at: expect.closeTo(50, 9),
        interval: { from: expect.closeTo(40, 9), to: expect.closeTo(60, 9), beyondLow: false, beyondHigh: false },
      },
      {
        kind: 'rate',
        at: expect.closeTo(80, 9),
        interval: { from: expect.closeTo(65, 9), to: expect.closeTo(95, 9), beyondLow: false, beyondHigh: false },
      },
    ])
    expect(layout?.standards).toEqual([
      { kind: 'minimum', at: expect.closeTo(58.3333, 4), label: 'Minimum standard 35.0\u00a0%' },
    ])
  })

  it('draws no mark for a row without a rate, and says why', () => {
    const layout = chartLayout([row('A', group(30, 100)), row('B', without('nobody-eligible'))], detection)
    expect(layout?.rows[1]).toMatchObject({
      mark: { kind: 'none' },
      figure: '',
      beside: 'No rate: no examination in the denominator',
    })
  })

  it('draws bounds and no rate where too much is not recorded', () => {
    const bounded = group(30, 84, { readBounds: true, bounds: { lower: 0.3, upper: 0.45 } })
    const layout = chartLayout([row('All', group(300, 1000, interval(0.24, 0.58))), row('B', bounded)], detection)
    expect(layout?.rows[1]?.mark).toEqual({ kind: 'bounds', from: expect.closeTo(50, 9), to: expect.closeTo(75, 9) })
    expect(layout?.rows[1]?.figure).toBe('30.0\u00a0to\u00a045.0\u00a0%')
  })

  it('ends the interval of a small group at the edge, and says that it runs on', () => {
    const layout = chartLayout(
      [row('All', group(930, 1000, interval(0.91, 0.95))), row('B', group(19, 20, interval(0.76, 0.99)))],
      publishedMeasure('caecal-intubation-rate-uk-2016'),
    )
    expect(layout?.scale.lowest).toBe(0.9)
    expect(layout?.rows[1]?.mark).toMatchObject({ interval: { from: 0, beyondLow: true } })
  })

  it('draws a rate without an interval as a bare mark', () => {
    const { interval: _, ...bare } = group(1, 1)
    expect(chartLayout([row('A', bare)], detection)?.rows[0]).toMatchObject({
      mark: { kind: 'rate' },
      beside: 'no interval',
    })
  })

  it('names a minimum and an aspirational standard in words', () => {
    const labels = chartLayout(rowsOf(intubation), intubation.measure)?.standards.map(({ label }) => label)
    expect(labels).toEqual(['Minimum standard 90.0\u00a0%', 'Aspirational standard 95.0\u00a0%'])
  })

  it('keeps rows apart and above the axis', () => {
    const layout = chartLayout(rowsOf(harbour), harbour.measure)
    const tops = layout?.rows.map(({ top }) => top) ?? []
    expect(tops).toHaveLength(12)
    for (const [index, top] of tops.slice(1).entries()) expect(top - (tops[index] ?? 0)).toBeGreaterThanOrEqual(46)
    expect(layout?.axis).toBeGreaterThan((tops.at(-1) ?? 0) + 45)
    expect(layout?.height).toBeGreaterThan(layout?.axis ?? 0)
  })

  it('is not drawn where nobody has a rate', () => {
    expect(chartLayout(rowsOf(unsettled), unsettled.measure)).toBeUndefined()
  })
})
