import { describe, expect, it } from 'vitest'
import { choiceOf, requestOf } from '../../src/pages/choice.ts'
import { lastDay, monthsLater } from '../../src/pages/months.ts'
import { publishedMeasure } from '../report/published-measure.ts'

const measures = [publishedMeasure('adenoma-detection-rate-us-2024'), publishedMeasure('withdrawal-time-us-2024')]
const units = [{ id: 'harbour', name: 'Harbour Unit', match: {} }]

function ask(query: Record<string, string[]>) {
  return requestOf(choiceOf(query, measures, '2026-08-15'), query, measures, units)
}

describe('months', () => {
  // The Gregorian calendar: 2028 is a leap year, 2100 is not.
  it.each([
    ['2026-01', '2026-01-31'],
    ['2026-02', '2026-02-28'],
    ['2028-02', '2028-02-29'],
    ['2100-02', '2100-02-28'],
    ['2026-12', '2026-12-31'],
  ])('end %s on %s', (month, day) => {
    expect(lastDay(month)).toBe(day)
  })

  it('count across years in both directions', () => {
    expect(monthsLater('2026-01', -2)).toBe('2025-11')
    expect(monthsLater('2026-12', 1)).toBe('2027-01')
    expect(monthsLater('2026-08', 24)).toBe('2028-08')
  })
})

describe('the choice', () => {
  it('shows the half year that ended a whole month before the last readable day when nothing is asked', () => {
    expect(ask({})).toEqual({ measure: measures[0], period: { start: '2026-01-01', end: '2026-06-30' } })
  })

  it('passes on what is asked', () => {
    expect(
      ask({ measure: ['withdrawal-time-us-2024'], unit: ['harbour'], from: ['2025-11'], to: ['2026-02'] }),
    ).toEqual({
      measure: measures[1],
      period: { start: '2025-11-01', end: '2026-02-28' },
      unit: 'harbour',
    })
  })

  it.each([
    [{ measure: ['polyp-rate'] }, 'There is no measure “polyp-rate”'],
    [{ unit: ['south'] }, 'There is no unit “south”'],
    [{ from: ['2026-07'], to: ['2026-01'] }, 'The first month, 2026-07, lies after the last, 2026-01'],
    [{ from: ['2026-13'] }, '“2026-13” is not a month'],
    [{ to: ['June'] }, '“June” is not a month'],
    [{ from: ['1900-01'] }, 'longer than 60 months'],
    [{ practitioner: ['HB-204'] }, '“practitioner” cannot be asked of this page'],
    [{ unit: ['harbour', 'moor'] }, '“unit” was given 2 times'],
  ])('refuses %j', (query, message) => {
    expect(() => ask(query)).toThrow(message)
  })
})
