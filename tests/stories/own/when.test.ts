import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination } from '../examination.ts'
import { expectAnswers, expectFacts, measureIds } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// Dates: FHIR R4, dateTime (a date may be a year or a month; a time carries its offset) and Period. Zones: the IANA rules, under
// which London put its clocks forward on 29 March 2026 and back on 25 October 2026 at 01:00 UTC. The start decides the day,
// common practice, no source. Age floors: 45 by US 2024, 18 by UK 2016.
const january = { start: '2026-01-01', end: '2026-01-31' }
const february = { start: '2026-02-01', end: '2026-02-28' }
const june = { start: '2026-06-01', end: '2026-06-30' }
const begun = (performedPeriod: object) => examination({ id: 'a', procedure: { performedPeriod } })

describe('when it was', () => {
  it('begun ten minutes before midnight, it belongs to the day and month of its start', () => {
    // Usual wrong answer: the end decides, or both months count it.
    const night = begun({ start: '2026-01-31T23:50:00Z', end: '2026-02-01T00:20:00Z' })
    expectFacts(ask(night), { examinationDate: '2026-01-31', startTime: '23:50' })
    expect(ask(night, '2027-01-01', northmoor, january).records).toHaveLength(1)
    expect(ask(night, '2027-01-01', northmoor, february).records).toHaveLength(0)
  })

  it('in the night before summer time the written offset is not the zone', () => {
    // Usual wrong answer: half past midnight on the 29th, as the text reads; in London it was 23:30 on the 28th.
    const story = ask(begun({ start: '2026-03-29T00:30:00+01:00', end: '2026-03-29T01:00:00+01:00' }))
    expectFacts(story, { examinationDate: '2026-03-28', startTime: '23:30' })
    expectAnswers(story, { caecum: 'met' })
  })

  it('in the night in which the clocks go back an end that reads earlier than its start loses nothing', () => {
    // Usual wrong answer: minus forty minutes, so the examination or its times are thrown away.
    const story = ask(
      examination({
        id: 'a',
        withdrawalMinutes: 8,
        procedure: { performedPeriod: { start: '2026-10-25T01:50:00+01:00', end: '2026-10-25T01:10:00+00:00' } },
      }),
    )
    expectFacts(story, { examinationDate: '2026-10-25', startTime: '01:50', withdrawalMinutes: 8 })
    expectAnswers(story, { caecum: 'met', withdrawal: { code: 'met', value: 8 } })
  })

  it('half past midnight of summer time is written as the evening before in UTC', () => {
    // Usual wrong answer: 30 June, by the first ten characters.
    const story = ask(begun({ start: '2026-06-30T23:30:00Z', end: '2026-07-01T00:00:00Z' }))
    expectFacts(story, { examinationDate: '2026-07-01', startTime: '00:30' })
    expect(ask(begun({ start: '2026-06-30T23:30:00Z' }), '2027-01-01', northmoor, june).records).toHaveLength(0)
  })

  it('each unit has the day of its own zone', () => {
    // Usual wrong answer: the zone of the source for all its units.
    const match = { procedureLocation: ['Location/west'] }
    const source = { ...northmoor, units: [{ id: 'west', name: 'West', zone: 'America/New_York', match }] }
    const performedPeriod = { start: '2026-07-01T02:30:00Z', end: '2026-07-01T03:00:00Z' }
    const story = ask(
      examination({ id: 'a', procedure: { performedPeriod, location: { reference: 'Location/west' } } }),
      '2027-01-01',
      source,
    )
    expectFacts(story, { unit: 'west', examinationDate: '2026-06-30', startTime: '22:30' })
  })

  it('of which only the month is written, it counts in a period that holds the month, and is else too coarse', () => {
    // Usual wrong answer: the first of the month, or dropped in silence.
    const month = examination({
      id: 'a',
      birthDate: '1966-01-01',
      procedure: { performedPeriod: undefined, performedDateTime: '2026-06' },
    })
    const asked = (start: string, end: string) => ask(month, '2027-01-01', northmoor, { start, end })
    const whole = asked('2026-06-01', '2026-06-30')
    expectFacts(whole, { age: 60, startTime: undefined, caecumReached: true })
    expectAnswers(whole, { us: 'not-met', caecum: 'met' })
    expect(asked('2026-01-01', '2026-12-31').records).toHaveLength(1)
    const part = asked('2026-06-10', '2026-07-31')
    expect(part.records).toEqual([])
    expect(part.leftOut).toEqual([{ reference: 'Procedure/a', reason: 'date coarser than a day' }])
    const after = asked('2026-07-01', '2026-07-31')
    expect([after.records, after.leftOut]).toEqual([[], []])
  })

  it('without an end it counts, and its length stands for nothing', () => {
    // Usual wrong answer: it lasts until now, or the withdrawal time is the length of the procedure.
    const story = ask(begun({ start: '2026-03-10T09:00:00Z' }))
    expectFacts(story, { examinationDate: '2026-03-10', withdrawalMinutes: undefined, insertionMinutes: undefined })
    expectAnswers(story, { caecum: 'met', withdrawal: 'not-recorded' })
  })

  it('dated in words it belongs to no period, and is listed', () => {
    // Usual wrong answer: not found by any search, so nobody knows of it.
    const story = ask(
      examination({ id: 'a', procedure: { performedPeriod: undefined, performedString: 'early March' } }),
    )
    expect(story.records).toEqual([])
    expect(story.leftOut).toEqual([{ reference: 'Procedure/a', reason: 'no date' }])
  })

  it.each([
    ['on the 45th birthday', '1981-03-10', 45, 'not-met'],
    ['on the day before it', '1981-03-11', 44, 'out'],
    ['with a birth date that is only a year', '1981', undefined, 'eligibility-not-recorded'],
  ] as const)('age %s', (_, birthDate, age, us) => {
    // Usual wrong answer: the difference of the years.
    const story = ask(examination({ id: 'a', birthDate, reasons: ['symptoms'] }))
    expectFacts(story, { age })
    expectAnswers(story, { us, uk: age === undefined ? 'eligibility-not-recorded' : 'not-met' })
  })

  it('an examination after the as-of day has not happened yet', () => {
    // Usual wrong answer: appointments entered as procedures count.
    expect(ask(examination({ id: 'a' }), '2026-03-09').counted(measureIds.caecum)).toEqual({})
  })
})
