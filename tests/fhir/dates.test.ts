import { describe, expect, it } from 'vitest'
import { addDays, daysBetween, isCalendarDate, readMoment } from '../../src/fhir/dates.ts'

// Zone rules: IANA time zone database. Summer time in Europe/London began on 2026-03-29 and ends on 2026-10-25 at 01:00 UTC.
describe('the civil date of a moment', () => {
  it.each([
    ['2026-03-10T23:56:00Z', 'Europe/London', '2026-03-10'],
    ['2026-06-10T23:30:00Z', 'Europe/London', '2026-06-11'],
    ['2026-03-29T00:59:59Z', 'Europe/London', '2026-03-29'],
    ['2026-10-25T23:30:00Z', 'Europe/London', '2026-10-25'],
    ['2026-10-24T23:30:00Z', 'Europe/London', '2026-10-25'],
    ['2026-01-01T10:00:00+13:00', 'Pacific/Auckland', '2026-01-01'],
    ['2026-01-01T00:30:00+10:00', 'America/New_York', '2025-12-31'],
    ['2026-01-01', 'America/New_York', '2026-01-01'],
  ])('%s in %s is %s', (written, zone, date) => {
    expect(readMoment(written, zone)?.date).toBe(date)
  })

  it('a time without a zone is taken as local', () => {
    expect(readMoment('2026-07-01T00:30:00', 'Europe/London')).toEqual({
      date: '2026-07-01',
      instant: Date.parse('2026-06-30T23:30:00Z'),
    })
  })

  it.each(['2026', '2026-03'])('%s is too coarse to be a day', (written) => {
    expect(readMoment(written, 'UTC')).toEqual({ coarse: written })
  })

  it.each(['2026-02-30', '2026-13-01', 'March', '', null, 20260101, '2026-3-1'])('%s is no date', (written) => {
    expect(readMoment(written, 'UTC')).toBeUndefined()
  })
})

describe('arithmetic of days', () => {
  it('counts over month ends, leap days and clock changes', () => {
    expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2)
    expect(daysBetween('2024-02-28', '2024-03-01')).toBe(2)
    expect(addDays('2026-06-02', 30)).toBe('2026-07-02')
    expect(isCalendarDate('2024-02-29')).toBe(true)
    expect(isCalendarDate('2026-02-29')).toBe(false)
  })
})
