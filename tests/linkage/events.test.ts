import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact } from '../stories/examination.ts'

// This service's own rules: an event belongs to one examination and counts once; what nothing decides is not recorded, and
// is listed. Days are counted on the civil calendar: 2026-03-10 to 2026-03-15 is 5, to 2026-05-01 is 52.
type Resource = Record<string, unknown>
const subject = { reference: 'Patient/p' }
const removed = { handling: 'removed' as const }
const exam = (id: string, date: string) => examination({ id, patient: 'p', date, polyps: [removed] })
/** The same resources, with something more said by one Procedure. */
const saying = (resources: Resource[], id: string, more: Resource) =>
  resources.map((one) => (one.resourceType === 'Procedure' && one.id === id ? { ...one, ...more } : one))

const a = exam('a', '2026-03-10')
const b = exam('b', '2026-03-20')

const later = saying(exam('later', '2026-03-10'), 'later', {
  performedPeriod: { start: '2026-03-10T14:00:00Z', end: '2026-03-10T14:30:00Z' },
})

const condition = (more: Resource): Resource => ({
  resourceType: 'Condition',
  id: 'c',
  code: fact('perforation'),
  subject,
  ...more,
})
const adverse = (more: Resource): Resource => ({
  resourceType: 'AdverseEvent',
  id: 'e',
  actuality: 'actual',
  event: fact('perforation'),
  subject,
  ...more,
})
const suspect = (id: string) => ({ suspectEntity: [{ instance: { reference: `Procedure/${id}` } }] })
const results = { resultingCondition: [{ reference: 'Condition/c' }] }
const nonSerious = {
  seriousness: {
    coding: [{ system: 'http://terminology.hl7.org/CodeSystem/adverse-event-seriousness', code: 'Non-serious' }],
  },
}
const told = (resources: Resource[], asOf?: string) => {
  const story = ask(resources, asOf)
  const facts = Object.fromEntries(
    story.records.map(({ procedure, perforation, perforationDay, bleeding, bleedingDay }) => [
      procedure.slice('Procedure/'.length),
      { perforation, perforationDay, bleeding, bleedingDay },
    ]),
  )
  return { facts, leftOut: story.leftOut.filter(({ reason }) => reason.includes('event')), story }
}

describe('an event told twice counts once', () => {
  it('an adverse event and its resulting condition go to the examination the adverse event names', () => {
    const { facts } = told([
      ...a,
      ...b,
      adverse({ date: '2026-03-15', ...suspect('a'), ...results }),
      condition({ onsetDateTime: '2026-03-22' }),
    ])
    expect(facts.a).toMatchObject({ perforation: true, perforationDay: 5 })
    expect(facts.b).toMatchObject({ perforation: false })
  })

  it('the condition that came of a potential event, or of a bleeding controlled at once, is none', () => {
    const bled = { code: fact('bleeding'), onsetDateTime: '2026-03-10' }
    const potential = adverse({ event: fact('bleeding'), actuality: 'potential', date: '2026-03-10', ...results })
    const controlled = adverse({
      event: fact('bleeding'),
      date: '2026-03-10',
      ...nonSerious,
      ...results,
      ...suspect('a'),
    })
    expect(told([...a, potential, condition(bled)]).facts.a?.bleeding).toBe(false)
    expect(told([...a, controlled, condition(bled)]).facts.a?.bleeding).toBe(false)
    expect(told([...a, condition(bled)]).facts.a?.bleeding).toBe(true)
  })

  it('a complication takes with it the unlinked condition that tells it again, within 30 days', () => {
    const complicated = saying(a, 'a', { complication: [fact('perforation')] })
    const within = told([...complicated, condition({ onsetDateTime: '2026-03-22' })])
    expect(within.facts.a).toMatchObject({ perforation: true, perforationDay: 0 })
    expect(within.story.only().eventCount).toBe(1)
  })

  it('but not where an examination came between that could have caused another one', () => {
    const complicated = saying(a, 'a', { complication: [fact('perforation')] })
    for (const [onsetDateTime, day] of [
      ['2026-03-22', 2],
      ['2026-04-10', 21],
    ] as const) {
      const { facts } = told([...complicated, ...b, condition({ onsetDateTime })])
      expect(facts.a).toMatchObject({ perforation: true, perforationDay: 0 })
      expect(facts.b).toMatchObject({ perforation: true, perforationDay: day })
    }
  })

  it('a second bleeding is of the second polypectomy, though the first had one as well', () => {
    const second = exam('b', '2026-03-21')
    const bled = adverse({ event: fact('bleeding'), date: '2026-03-12', ...suspect('a') })
    const again = condition({ code: fact('bleeding'), onsetDateTime: '2026-03-26' })
    for (const events of [[again], [bled, again]])
      expect(told([...a, ...second, ...events]).facts.b).toMatchObject({ bleeding: true, bleedingDay: 5 })
    expect(told([...a, ...second, bled, again]).facts.a).toMatchObject({ bleeding: true, bleedingDay: 2 })
  })

  it('one said to be of the first after the second is that event when it is told again', () => {
    const named = adverse({ date: '2026-03-22', ...suspect('a') })
    const { facts } = told([...a, ...b, named, condition({ onsetDateTime: '2026-03-23' })])
    expect(facts.a).toMatchObject({ perforation: true, perforationDay: 12 })
    expect(facts.b?.perforation).toBe(false)
  })

  it('one of the first without a date leaves open of which it is told again', () => {
    const { facts, leftOut } = told([...a, ...b, adverse(suspect('a')), condition({ onsetDateTime: '2026-03-23' })])
    expect(facts.a?.perforation).toBe(true)
    expect(facts.b?.perforation).toBeUndefined()
    expect(leftOut).toEqual([{ reference: 'Condition/c', reason: 'event attribution undecided' }])
  })

  it('but not one that is linked to the other examination itself', () => {
    const { facts } = told([
      ...saying(a, 'a', { complication: [fact('perforation')] }),
      ...saying(b, 'b', { complicationDetail: [{ reference: 'Condition/c' }] }),
      condition({ onsetDateTime: '2026-03-22' }),
    ])
    expect(facts.a?.perforationDay).toBe(0)
    expect(facts.b?.perforationDay).toBe(2)
  })
})

describe('what an examination was done for is no event of it', () => {
  const bled = condition({ code: fact('bleeding'), recordedDate: '2026-03-10' })
  const reasonReference = [{ reference: 'Condition/c' }]

  it('stated by the procedure, or by its order', () => {
    expect(told([...saying(a, 'a', { reasonReference }), bled]).facts.a?.bleeding).toBe(false)
    const order = { resourceType: 'ServiceRequest', id: 'order', subject, reasonReference }
    const ordered = saying(a, 'a', { basedOn: [{ reference: 'ServiceRequest/order' }] })
    expect(told([...ordered, order, bled]).facts.a?.bleeding).toBe(false)
  })

  it('nor of a later one on the same day', () => {
    const { facts } = told([...saying(a, 'a', { reasonReference }), ...later, bled])
    expect(Object.values(facts).map(({ bleeding }) => bleeding)).toEqual([false, false])
  })

  it('a bleeding after a polypectomy stays its event when the next examination is done for it', () => {
    const { facts } = told([
      ...a,
      ...saying(b, 'b', { reasonReference }),
      condition({ code: fact('bleeding'), onsetDateTime: '2026-03-20' }),
    ])
    expect(facts.a).toMatchObject({ bleeding: true, bleedingDay: 10 })
    expect(facts.b?.bleeding).toBe(false)
  })
})

describe('an event on the day of the examination', () => {
  it('before its start is not its event', () => {
    expect(told([...a, condition({ onsetDateTime: '2026-03-10T08:59:00Z' })]).facts.a?.perforation).toBe(false)
    expect(told([...a, condition({ onsetDateTime: '2026-03-10T09:01:00Z' })]).facts.a?.perforation).toBe(true)
  })

  it('between two examinations belongs to the first', () => {
    const { facts } = told([...a, ...later, condition({ onsetDateTime: '2026-03-10T12:00:00Z' })])
    expect(facts.a).toMatchObject({ perforation: true, perforationDay: 0 })
    expect(facts.later?.perforation).toBe(false)
  })

  it('after two examinations is given to neither, and denied of neither: listed once', () => {
    const { facts, leftOut } = told([...a, ...later, condition({ onsetDateTime: '2026-03-12' })])
    expect(facts.a).toEqual({ bleeding: false })
    expect(facts.later).toEqual({ bleeding: false })
    expect(leftOut).toEqual([{ reference: 'Condition/c', reason: 'event attribution undecided' }])
  })

  it('named by an examination that began after it: undecided, and listed', () => {
    const { facts, leftOut } = told([...a, adverse({ date: '2026-03-09', ...suspect('a') })])
    expect(facts.a).toEqual({ bleeding: false })
    expect(leftOut).toEqual([{ reference: 'AdverseEvent/e', reason: 'event dated before its examination' }])
  })
})

describe('an event whose date is coarse or missing', () => {
  it('a complication of the procedure without any date is of day 0', () => {
    expect(told(saying(a, 'a', { complication: [fact('perforation')] })).facts.a?.perforationDay).toBe(0)
    const detail = saying(a, 'a', { complicationDetail: [{ reference: 'Condition/c' }] })
    expect(told([...detail, condition({})]).facts.a?.perforationDay).toBe(0)
  })

  it.each(['2026-05', '2026'])('naming its examination, dated %s: true, on a day not recorded', (date) => {
    const { facts, story } = told([...a, adverse({ date, ...suspect('a') })])
    expect(facts.a).toEqual({ perforation: true, bleeding: false })
    expect(story.answer('perforation-rate-30-day-descriptive').code).toBe('not-recorded')
  })

  it('naming its examination, without a date: true, on a day not recorded', () => {
    const { facts } = told([...a, adverse(suspect('a'))])
    expect(facts.a).toEqual({ perforation: true, bleeding: false })
  })

  it('naming its examination, in a month that begins more than 60 days later: none', () => {
    expect(told([...a, adverse({ date: '2026-06', ...suspect('a') })]).facts.a?.perforation).toBe(false)
  })

  it('a month of which only the last day is left gives that day', () => {
    const last = exam('last', '2026-03-31')
    expect(told([...last, adverse({ date: '2026-03', ...suspect('last') })]).facts.last?.perforationDay).toBe(0)
  })

  it('a coarse onset gives way to the day of recording', () => {
    const { facts } = told([...a, condition({ onsetDateTime: '2026', recordedDate: '2026-03-15' })])
    expect(facts.a).toMatchObject({ perforation: true, perforationDay: 5 })
  })

  it('unless it was recorded after that month or year', () => {
    const { facts } = told([...a, condition({ onsetDateTime: '2026-04', recordedDate: '2026-08-15' })])
    expect(facts.a).toEqual({ perforation: true, bleeding: false })
  })

  it('unlinked and undated is listed, and no examination of the patient is said to be free of it', () => {
    const { facts, leftOut } = told([...a, ...b, condition({})])
    expect(facts).toEqual({ a: { bleeding: false }, b: { bleeding: false } })
    expect(leftOut).toEqual([{ reference: 'Condition/c', reason: 'event without a usable date' }])
  })

  it('unlinked, in the month of the examination, may have come before it', () => {
    const { facts, leftOut } = told([...a, condition({ onsetDateTime: '2026-03' })])
    expect(facts.a).toEqual({ bleeding: false })
    expect(leftOut).toEqual([{ reference: 'Condition/c', reason: 'event without a usable date' }])
    expect(told([...a, condition({ onsetDateTime: '2026-02' })]).facts.a?.perforation).toBe(false)
  })

  it('a bleeding not serious that may have been immediate is undecided', () => {
    const bled = adverse({ event: fact('bleeding'), date: '2026-03', ...suspect('a'), ...nonSerious })
    expect(told([...a, bled]).facts.a).toEqual({ perforation: false })
  })

  it('a dated one within 30 days is not made doubtful by an undated one; a later one is', () => {
    const undated = adverse({ id: 'undated', ...suspect('a') })
    const day = (date: string) => told([...a, undated, adverse({ date, ...suspect('a') })]).facts.a
    expect(day('2026-03-15')).toMatchObject({ perforation: true, perforationDay: 5 })
    expect(day('2026-04-20')).toEqual({ perforation: true, bleeding: false })
  })
})
