import { describe, expect, it } from 'vitest'
import {
  asOfDay,
  clockChanges,
  dateOf,
  dayOf,
  firstDay,
  isWorkday,
  londonTime,
  utcTime,
} from '../../src/local/demo/calendar.ts'

/** London's civil time by the zone tables that come with the platform: IANA's, not ours. */
const inLondon = new Intl.DateTimeFormat('sv-SE', {
  timeZone: 'Europe/London',
  dateStyle: 'short',
  timeStyle: 'medium',
})

describe('the demo calendar', () => {
  it('agrees with the IANA zone on every day of the demo, at night, at noon and before midnight', () => {
    for (let day = firstDay; day <= asOfDay; day++) {
      if (clockChanges(day)) continue
      for (const minute of [0, 35, 720, 1435]) {
        const time = `${String(Math.trunc(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}:00`
        const expected = `${dateOf(day)} ${time}`
        expect(inLondon.format(new Date(londonTime(day, minute)))).toBe(expected)
        expect(inLondon.format(new Date(utcTime(day, minute)))).toBe(expected)
      }
    }
  })

  it('names days and weekdays', () => {
    expect(dateOf(dayOf('2026-02-28') + 1)).toBe('2026-03-01')
    // 1 January 2025 was a Wednesday, 4 January a Saturday.
    expect(isWorkday(dayOf('2025-01-01'))).toBe(true)
    expect(isWorkday(dayOf('2025-01-04'))).toBe(false)
    expect(isWorkday(dayOf('2025-01-05'))).toBe(false)
  })
})
