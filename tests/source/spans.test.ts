import { expect, it } from 'vitest'
import { spanOf, touches } from '../../src/source/spans.ts'

// FHIR R4 (4.0.1), dateTime and Period: a date may stop at the month or the year; a missing end means that it goes on.
it.each([
  ['2026-03-10', '2026-03-10', '2026-03-10'],
  ['2026-03-10T23:59:00+01:00', '2026-03-10', '2026-03-10'],
  ['2026-03', '2026-03-01', '2026-03-31'],
  ['2026', '2026-01-01', '2026-12-31'],
  [{ start: '2026-03-10T10:00:00Z', end: '2026-03-12' }, '2026-03-10', '2026-03-12'],
  [{ start: '2026-03-10' }, '2026-03-10', '9999'],
  [{ end: '2026-03' }, '', '2026-03-31'],
])('%j may cover the days from %s to %s', (value, low, high) => {
  expect(spanOf(value)).toEqual({ low, high })
})

it.each([undefined, null, '', 'early March', {}, { start: 7 }])('%j covers no days', (value) => {
  expect(spanOf(value)).toBeUndefined()
})

const encounter = (period: unknown) => ({ resourceType: 'Encounter', period })

it.each([
  [{ start: '2026-03-29', end: '2026-03-29' }, true],
  [{ start: '2026-03-28', end: '2026-03-28' }, false],
  [{ start: '2026-01-01' }, true],
  [{ start: '2026-05-07' }, true],
  [{ start: '2026-05-08' }, false],
  [undefined, true],
])('of an encounter in %j, asked for from 31 March to 5 May, with two days of grace: %s', (period, expected) => {
  expect(touches(encounter(period), ['period'], '2026-03-31', '2026-05-05')).toBe(expected)
})

it('one of several elements is enough, and without a last day everything later touches', () => {
  const row = { resourceType: 'DiagnosticReport', effectiveDateTime: '2020-01-01', effectivePeriod: { start: '2030' } }
  expect(touches(row, ['effectiveDateTime', 'effectivePeriod'], '2026-01-01')).toBe(true)
  expect(touches(row, ['effectiveDateTime'], '2026-01-01')).toBe(false)
})
