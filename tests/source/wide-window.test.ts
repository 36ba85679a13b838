import { describe, expect, it } from 'vitest'
import { beganWithin, isDated, wasAskedFor, wideWindow } from '../../src/source/wide-window.ts'
import { procedure } from './loopback.ts'

const march = wideWindow({ start: '2026-03-01', end: '2026-03-31' }, ['73761001'])
const performed = (more: Record<string, unknown>) => ({
  ...procedure('p'),
  resourceType: 'Procedure',
  performedDateTime: undefined,
  ...more,
})

it('reads four days more on each side', () => {
  expect(march).toMatchObject({ first: '2026-02-25', last: '2026-04-04' })
})

// FHIR R4, search 3.1.1.4.7: a date stands for the whole range of its precision, and an open period reaches to infinity.
describe('a procedure', () => {
  it.each([
    ['on the first day', { performedDateTime: '2026-02-25' }, true, true],
    ['a month before', { performedDateTime: '2026-01-25T10:00:00Z' }, false, false],
    ['a month after', { performedDateTime: '2026-05-05' }, false, false],
    ['in some month that reaches in', { performedDateTime: '2026-02' }, true, true],
    ['in some year', { performedDateTime: '2026' }, true, true],
    ['in another year', { performedDateTime: '2025' }, false, false],
    ['since 2019 without end', { performedPeriod: { start: '2019-05-02T09:00:00+02:00' } }, true, false],
    ['until a day within, without start', { performedPeriod: { end: '2026-03-02' } }, true, true],
    ['over the edge', { performedPeriod: { start: '2026-02-01', end: '2026-03-02' } }, true, false],
    ['at a time in words', { performedString: 'early March 2026' }, true, true],
  ])('%s: asked for and begun within', (_, more, askedFor, within) => {
    expect(wasAskedFor(performed(more), march)).toBe(askedFor)
    expect(beganWithin(performed(more), march)).toBe(within)
  })

  it('with another code was not asked for', () => {
    expect(wasAskedFor(performed({ code: { coding: [{ code: '44441009' }] } }), march)).toBe(false)
    expect(wasAskedFor(performed({ code: { text: 'Colonoscopy' } }), march)).toBe(false)
  })

  it('is dated by a readable date alone', () => {
    expect(isDated(performed({ performedDateTime: '2026' }))).toBe(true)
    expect(isDated(performed({ performedString: '2026-03-01' }))).toBe(false)
    expect(isDated(performed({ performedDateTime: 'yesterday' }))).toBe(false)
  })
})
