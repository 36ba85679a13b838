import { describe, expect, it } from 'vitest'
import { waitBeforeRetry } from '../../src/source/backoff.ts'

const now = Date.parse('2026-03-05T10:00:00Z')

// RFC 9110, 10.2.3: Retry-After is a number of seconds or an HTTP-date.
describe('the wait before the next try', () => {
  it.each([
    ['seconds', { 'retry-after': '3' }, 3000],
    [
      'a date, counted from the server’s own clock',
      { 'retry-after': 'Tue, 05 Mar 2024 10:00:07 GMT', date: 'Tue, 05 Mar 2024 10:00:00 GMT' },
      7000,
    ],
    ['a date, counted from ours where the server gives none', { 'retry-after': 'Thu, 05 Mar 2026 10:00:09 GMT' }, 9000],
    ['a date that has passed', { 'retry-after': 'Thu, 05 Mar 2020 10:00:00 GMT' }, 0],
    ['a header sent twice', { 'retry-after': '2, 7' }, 7000],
    ['more than half a minute, cut to that', { 'retry-after': '3600' }, 30_000],
  ])('is what the server asks for: %s', (_, headers, expected) => {
    expect(waitBeforeRetry(1, new Headers(headers), 0.5, now)).toBe(expected)
  })

  it('doubles from try to try without a readable header, spread by the jitter', () => {
    expect(waitBeforeRetry(1, undefined, 0, now)).toBe(250)
    expect(waitBeforeRetry(1, new Headers({ 'retry-after': 'soon' }), 0, now)).toBe(250)
    expect(waitBeforeRetry(2, undefined, 0, now)).toBe(500)
    expect(waitBeforeRetry(1, undefined, 0.999, now)).toBeLessThan(500)
  })
})
