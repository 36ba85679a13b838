import { describe, expect, it } from 'vitest'
import { isKnownBy } from '../../src/fhir/dates.ts'
import { ask } from '../stories/ask.ts'
import { examination, fact, snomed, ulcerativeColitis } from '../stories/examination.ts'

// Zone rules: IANA time zone database. 23:30 UTC on 9 June 2026 is 00:30 on 10 June in Europe/London.
const asOf = Date.parse('2026-06-09T23:30:00Z')

describe('what is known by an instant', () => {
  it.each<[unknown, boolean]>([
    ['2026-06-09T23:30:00Z', true],
    ['2026-06-09T23:30:01Z', false],
    ['2026-06-10', true],
    ['2026-06-11', false],
    ['2026-06', true],
    ['2026-07', false],
    ['2026', true],
    ['2027', false],
    [undefined, true],
    ['soon', true],
  ])('%s: %s', (written, known) => {
    expect(isKnownBy(written, asOf, 'Europe/London')).toBe(known)
  })

  it('a civil date is the date in the zone', () => {
    expect(isKnownBy('2026-06-10', asOf, 'America/New_York')).toBe(false)
  })
})

describe('what became known after the as-of instant', () => {
  const exam = examination({ id: 'a', patient: 'p', date: '2026-03-10', polyps: [{ handling: 'removed' }] })
  const subject = { reference: 'Patient/p' }
  const perforation = { resourceType: 'Condition', id: 'c', code: fact('perforation'), subject }

  it('an event recorded later, on a date without a time, has not happened yet', () => {
    const event = { ...perforation, onsetDateTime: '2026-03-11', recordedDate: '2026-05-02' }
    expect(ask([...exam, event], '2026-05-01').records[0]?.perforation).toBe(false)
    expect(ask([...exam, event], '2026-05-02').records[0]?.perforation).toBe(true)
  })

  it('nor has one dated later', () => {
    const event = { ...perforation, onsetDateTime: '2026-03-13' }
    expect(ask([...exam, event], '2026-03-12').records[0]?.perforation).toBe(false)
    expect(ask([...exam, event], '2026-03-13').records[0]?.perforation).toBe(true)
  })

  it('an adverse event not known yet does not hide its condition', () => {
    const later = {
      resourceType: 'AdverseEvent',
      id: 'e',
      actuality: 'potential',
      event: fact('perforation'),
      subject,
      recordedDate: '2026-06-01',
      resultingCondition: [{ reference: 'Condition/c' }],
    }
    const resources = [...exam, later, { ...perforation, onsetDateTime: '2026-03-11' }]
    expect(ask(resources, '2026-05-01').records[0]?.perforation).toBe(true)
    expect(ask(resources, '2026-06-01').records[0]?.perforation).toBe(false)
  })

  it('a condition recorded later was not known, however early it began', () => {
    const code = snomed(ulcerativeColitis)
    const colitis = { resourceType: 'Condition', code, subject, onsetDateTime: '2019', recordedDate: '2026-07-01' }
    const known = (date: string) => ask([...exam, colitis], date).records[0]?.inflammatoryBowelDisease
    expect(known('2026-06-30')).toBe(false)
    expect(known('2026-07-01')).toBe(true)
  })

  it('an examination of a later date is not there yet', () => {
    const dated = exam.map((one) =>
      one.resourceType === 'Procedure' ? { ...one, performedPeriod: undefined, performedDateTime: '2026-03-10' } : one,
    )
    expect(ask(dated, '2026-03-09').records).toEqual([])
    expect(ask(dated, '2026-03-10').records).toHaveLength(1)
  })
})
