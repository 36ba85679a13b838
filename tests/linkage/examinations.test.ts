import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, snomed } from '../stories/examination.ts'

// The rules are those of this service's design; the states of a Procedure are the R4 value set event-status.
const procedureOf = (resources: Record<string, unknown>[]) =>
  resources.find(({ resourceType }) => resourceType === 'Procedure') as Record<string, unknown>

/** The same story with its Procedure changed. */
const changed = (resources: Record<string, unknown>[], change: Record<string, unknown>) =>
  resources.map((resource) => (resource === procedureOf(resources) ? { ...resource, ...change } : resource))

describe('what is an examination', () => {
  it.each([
    ['entered-in-error', 'entered in error'],
    ['not-done', 'not done'],
    ['preparation', 'not finished'],
    ['in-progress', 'not finished'],
    ['on-hold', 'not finished'],
    ['unknown', 'status unknown'],
  ])('status %s never counts and is listed', (status, reason) => {
    const story = ask(examination({ id: 'a', status }))
    expect(story.records).toEqual([])
    expect(story.leftOut).toEqual([{ reference: 'Procedure/a', reason }])
  })

  it('a date that is missing belongs to no period, and one that is only a month to a period that holds all of it', () => {
    const undated = changed(examination({ id: 'a' }), { performedPeriod: undefined })
    expect(ask(undated).leftOut).toEqual([{ reference: 'Procedure/a', reason: 'no date' }])
    const month = changed(examination({ id: 'a' }), { performedPeriod: undefined, performedDateTime: '2026-03' })
    const during = (start: string, end: string) => ask(month, undefined, undefined, { start, end })
    expect(during('2026-03-02', '2026-06-30').leftOut).toEqual([
      { reference: 'Procedure/a', reason: 'date coarser than a day' },
    ])
    expect(during('2026-04-01', '2026-06-30').leftOut).toEqual([])
    const whole = during('2026-03-01', '2026-03-31')
    expect(whole.leftOut).toEqual([])
    expect(whole.records).toMatchObject([{ procedure: 'Procedure/a' }])
    expect(whole.records[0]?.examinationDate).toBeUndefined()
  })

  it('the start decides the date, in the zone of the unit', () => {
    const night = { start: '2026-06-30T23:30:00Z', end: '2026-07-01T00:10:00Z' }
    expect(ask(changed(examination({ id: 'a' }), { performedPeriod: night })).records[0]?.examinationDate).toBe(
      '2026-07-01',
    )
  })

  it('an order, a plan or a claim for a colonoscopy is none', () => {
    const code = snomed('73761001')
    const subject = { reference: 'Patient/p' }
    const others = ['ServiceRequest', 'CarePlan', 'Claim'].map((resourceType, index) => ({
      resourceType,
      id: `o${index}`,
      code,
      subject,
    }))
    expect(ask(others).records).toEqual([])
  })

  it('after the caecum a stopped examination is complete', () => {
    const story = ask(examination({ id: 'a', status: 'stopped', stopReason: 'discomfort' }))
    expect(story.records[0]).toMatchObject({ completion: 'completed', caecumReached: true })
  })
})

describe('two resources, one examination or two', () => {
  const original = examination({ id: 'a', patient: 'p' })
  const copy = (change: Record<string, unknown>) => ({
    resourceType: 'Procedure',
    id: 'copy',
    status: 'completed',
    code: snomed('444783004'),
    subject: { reference: 'Patient/p' },
    ...change,
  })

  it.each([
    ['the same start', { performedPeriod: { start: '2026-03-10T09:00:00Z' } }],
    ['an overlap', { performedPeriod: { start: '2026-03-10T09:10:00Z', end: '2026-03-10T09:50:00Z' } }],
    ['no time of day', { performedDateTime: '2026-03-10' }],
  ])('%s on one day makes one, and the fuller resource leads', (_, change) => {
    const story = ask([...original, copy(change)])
    expect(story.records.map(({ procedure }) => procedure)).toEqual(['Procedure/a'])
    expect(story.leftOut).toContainEqual({ reference: 'Procedure/copy', reason: 'second resource of one examination' })
  })

  it.each([
    ['the next day', { performedPeriod: { start: '2026-03-11T09:00:00Z', end: '2026-03-11T09:30:00Z' } }],
    ['later that day, apart', { performedPeriod: { start: '2026-03-10T15:00:00Z', end: '2026-03-10T15:30:00Z' } }],
  ])('%s is a second examination', (_, change) => {
    expect(ask([...original, copy(change)]).records).toHaveLength(2)
  })

  it('patients that were merged are one', () => {
    const merged = [
      { resourceType: 'Patient', id: 'old', link: [{ other: { reference: 'Patient/p' }, type: 'replaced-by' }] },
      copy({ subject: { reference: 'Patient/old' }, performedPeriod: { start: '2026-03-10T09:00:00Z' } }),
    ]
    expect(ask([...original, ...merged]).records).toHaveLength(1)
  })
})
