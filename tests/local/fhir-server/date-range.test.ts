import { describe, expect, it } from 'vitest'
import { dateTest, rangeOf, readDate } from '../../../src/local/fhir-server/date-range.ts'
import { Refusal } from '../../../src/local/fhir-server/refusal.ts'

const matches = (search: string, target: unknown): boolean => {
  const range = rangeOf(target)
  if (range === undefined) throw new Error('the target is no date')
  return dateTest('date', search)(range)
}
const from15March = { start: '2013-03-15' }
const from21January = { start: '2013-01-21' }
const to21January = { end: '2013-01-21' }

describe('dateTest', () => {
  // The examples of FHIR R4, "Search", section "date", one by one.
  it.each([
    ['eq2013-01-14', '2013-01-14T00:00:00Z', true],
    ['eq2013-01-14', '2013-01-14T10:00:00Z', true],
    ['eq2013-01-14', '2013-01-15T00:00:00Z', false],
    ['2013-01-14', '2013-01-14', true],
    ['lt2013-01-14T10:00', '2013-01-14', true],
    ['gt2013-01-14T10:00', '2013-01-14', true],
    ['ge2013-03-14', from21January, true],
    ['le2013-03-14', from21January, true],
    ['sa2013-03-14', from15March, true],
    ['sa2013-03-14', from21January, false],
    ['sa2013-03-14', to21January, false],
    ['eb2013-03-14', from15March, false],
    ['eb2013-03-14', from21January, false],
    ['eb2013-03-14', to21January, true],
  ])('%s and a record of %j: %s', (search, target, expected) => {
    expect(matches(search, target)).toBe(expected)
  })

  // R4: "the range above the search value intersects with the range of the target value, or the range of the search value
  // fully contains the range of the target value". To the letter, a night that ends within the day asked for is not found by
  // ge with that day; whoever wants it has to ask for a day more.
  it('finds a night across the edge of a year by the day before, but not by the day on which it ends', () => {
    const night = { start: '2023-12-31T23:50:00Z', end: '2024-01-01T00:20:00Z' }
    expect(matches('ge2023-12-31', night)).toBe(true)
    expect(matches('lt2024-01-01', night)).toBe(true)
    expect(matches('ge2024-01-01', night)).toBe(false)
  })

  it('heeds the zone of a moment: half past midnight in London in summer is the day before in UTC', () => {
    expect(matches('eq2026-06-30', '2026-07-01T00:30:00+01:00')).toBe(true)
    expect(matches('eq2026-07-01', '2026-07-01T00:30:00+01:00')).toBe(false)
  })

  it.each(['ap2013-01-14', 'ne2013-01-14', 'xx2013', 'ge2013-02-30', 'ge2013-13', 'yesterday', 'ge'])(
    'refuses %s',
    (value) => {
      expect(() => dateTest('date', value)).toThrow(Refusal)
    },
  )
})

describe('readDate', () => {
  it('spans what its precision leaves open', () => {
    const span = (text: string) => {
      const range = readDate(text)
      return range && [new Date(range.from).toISOString(), new Date(range.to).toISOString()]
    }
    expect(span('2024')).toEqual(['2024-01-01T00:00:00.000Z', '2025-01-01T00:00:00.000Z'])
    expect(span('2024-02')).toEqual(['2024-02-01T00:00:00.000Z', '2024-03-01T00:00:00.000Z'])
    expect(span('2024-02-29')).toEqual(['2024-02-29T00:00:00.000Z', '2024-03-01T00:00:00.000Z'])
    expect(span('2024-02-29T10:00:00+01:00')).toEqual(['2024-02-29T09:00:00.000Z', '2024-02-29T09:00:01.000Z'])
    expect(readDate('2023-02-29')).toBeUndefined()
  })
})
