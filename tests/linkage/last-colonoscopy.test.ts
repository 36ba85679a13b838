import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { amount, examination, fact, type Resource, type Said, snomed, yesNo } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// Months of the calendar: from 2023-03-10 to 2026-03-10 there are 36. Statuses: FHIR R4, event-status. SNOMED CT 73761001 is a
// colonoscopy. A stopped one was not carried through (R4: stopped before the intended end); a completed one may have been badly
// prepared, so that it says nothing.
const period = { start: '2026-03-01', end: '2026-03-31' }
const earlier = (id: string, performedDateTime: string | undefined, more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code: snomed('73761001'),
  subject: { reference: 'Patient/patient-a' },
  performedDateTime,
  ...more,
})

function last(said: Said[], ...more: Resource[]) {
  const story = ask([...examination({ id: 'a', said }), ...more], '2027-01-01', northmoor, period)
  expect(story.inAnotherOrder()).toEqual(story.records)
  const { monthsSinceLastColonoscopy: months, lastExaminationInadequate: inadequate } = story.only()
  return { months, inadequate, ...story.takenDown() }
}
const stated = (value: number, unit: string) => amount('last-colonoscopy', value, unit)
const statedOn = (valueDateTime: string): Said => ({ code: fact('last-colonoscopy'), valueDateTime })

describe('months since the last colonoscopy', () => {
  it('are those to the latest one of an earlier day on record', () => {
    const told = last([], earlier('x', '2019-05-01'), earlier('y', '2023-03-10'), earlier('z', '2026-09-01'))
    expect(told).toMatchObject({ months: 36, inadequate: undefined })
    expect(told.rungsOf('monthsSinceLastColonoscopy')).toEqual(['record of the same patient'])
    // 2025-12-20 to 2026-03-10: three months less ten days of 30.4.
    expect(last([], earlier('x', '2025-12-20')).months).toBe(2.7)
  })

  it('are as stated, as a time or a date', () => {
    expect(last([stated(3, 'a')]).months).toBe(36)
    expect(last([stated(18, 'mo')]).months).toBe(18)
    expect(last([statedOn('2024-03-10')]).months).toBe(24)
  })

  it('are to the later of what is stated and what is on record, and a later one on record is listed', () => {
    expect(last([stated(12, 'mo')], earlier('x', '2023-03-10'))).toMatchObject({ months: 12, contradictions: [] })
    expect(last([stated(3, 'a')], earlier('x', '2025-03-10'))).toMatchObject({
      months: 12,
      contradictions: ['last colonoscopy stated, but a later one on record'],
    })
    // Rounded to years, they mean one examination.
    expect(last([stated(3, 'a')], earlier('x', '2023-03-20'))).toMatchObject({ months: 35.7, contradictions: [] })
  })

  it.each<[string, Resource[]]>([
    ['a year that may be later', [earlier('x', '2023-03-10'), earlier('y', '2024')]],
    ['a year that may be later than the examination', [earlier('x', '2023-03-10'), earlier('y', '2026')]],
    ['no date', [earlier('x', '2023-03-10'), earlier('y', undefined)]],
    [
      'a status that does not say whether it was done',
      [earlier('x', '2023-03-10'), earlier('y', '2025-01-07', { status: 'unknown' })],
    ],
  ])('are not recorded beside one of %s', (_, resources) => {
    const told = last([], ...resources)
    expect(told.months).toBeUndefined()
    expect(told.doubts).toContain('colonoscopy that does not say whether it was done before the examination')
  })

  it.each<[string, Resource]>([
    ['was not done', { status: 'not-done' }],
    ['was entered in error', { status: 'entered-in-error' }],
    ['never began', { status: 'stopped', statusReason: fact('not-inserted') }],
    ['is another patient’s', { subject: { reference: 'Patient/other' } }],
    ['was no colonoscopy', { code: snomed('44441009') }],
  ])('leave aside one that %s', (_, more) => {
    expect(last([], earlier('x', '2023-03-10'), earlier('y', '2025-03-10', more)).months).toBe(36)
  })

  it('do not come from an older one of a year that is certainly before', () => {
    expect(last([], earlier('x', '2023-03-10'), earlier('y', '2021')).months).toBe(36)
  })

  it.each<[string, Said[]]>([
    ['is only a year', [statedOn('2023')]],
    ['is after the examination', [statedOn('2026-04-01')]],
    ['is a bound', [amount('last-colonoscopy', 3, 'a', { valueQuantity: { value: 3, code: 'a', comparator: '>' } })]],
    ['is in no unit of time', [stated(3, 'mm')]],
  ])('are not recorded where what is stated %s, and that is listed', (_, said) => {
    const told = last(said, earlier('x', '2023-03-10'))
    expect(told.months).toBeUndefined()
    expect(told.unreadable).toContain('monthsSinceLastColonoscopy')
  })

  it('are not recorded where two statements differ', () => {
    const told = last([stated(3, 'a'), stated(5, 'a')])
    expect(told.months).toBeUndefined()
    expect(told.contradictions).toEqual(['two different values of one measurement'])
  })

  it('are not recorded, not even in a complete history, where nobody tells of one', () => {
    expect(last([])).toMatchObject({ months: undefined, inadequate: undefined })
  })
})

describe('the last examination was incomplete or badly prepared', () => {
  const asked = (answer: boolean) => yesNo('last-examination-inadequate', answer)

  it('as answered at the examination', () => {
    expect(last([asked(true)]).inadequate).toBe(true)
    expect(last([asked(false)]).inadequate).toBe(false)
    expect(last([asked(false)], earlier('x', '2023-03-10')).inadequate).toBe(false)
  })

  it('where it was stopped; not where an older one was', () => {
    const stopped = { status: 'stopped' }
    expect(last([], earlier('x', '2025-12-10', stopped)).inadequate).toBe(true)
    expect(last([], earlier('x', '2025-12-10'), earlier('y', '2025-11-10', stopped)).inadequate).toBeUndefined()
    // A later one elsewhere is stated: the one on record is not the last.
    expect(last([stated(1, 'mo')], earlier('x', '2025-03-10', stopped)).inadequate).toBeUndefined()
  })

  it('is not recorded where a no stands against a stopped one, and that is listed', () => {
    const told = last([asked(false)], earlier('x', '2025-12-10', { status: 'stopped' }))
    expect(told.inadequate).toBeUndefined()
    expect(told.contradictions).toEqual(['history stated both ways'])
  })
})
