import { describe, expect, it } from 'vitest'
import { condition } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { examination, fact, hyperplastic, type PolypFacts, pathology, type Resource } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// Windows: 30 days, day 30 included (in print, read). Immediate bleeding controlled without consequence is no event, and one
// event told twice is one: common practice, no source. AdverseEvent (actuality, seriousness, severity): FHIR R4.
const polyp: PolypFacts = { handling: 'removed', specimen: 'pot' }
const withPolyp = [
  ...examination({ id: 'a', polyps: [polyp] }),
  ...pathology('p', { issued: '2026-03-14T10:00:00Z', results: [{ specimen: 'pot', code: hyperplastic }] }),
]
const plain = examination({ id: 'a' })
const adverse = (id: string, code: string, date: string, more: Resource = {}): Resource => ({
  resourceType: 'AdverseEvent',
  id,
  actuality: 'actual',
  event: fact(code),
  subject: { reference: 'Patient/patient-a' },
  date,
  ...more,
})
const serious = { seriousness: { coding: [{ code: 'serious' }] } }

describe('events', () => {
  it('a perforation told by an adverse event and by a diagnosis is one', () => {
    // Usual wrong answer: two events.
    const story = ask([
      ...plain,
      adverse('event', 'perforation', '2026-03-12', {
        ...serious,
        resultingCondition: [{ reference: 'Condition/diagnosis' }],
        suspectEntity: [{ instance: { reference: 'Procedure/a' } }],
      }),
      condition('a', 'diagnosis', fact('perforation'), { onsetDateTime: '2026-03-12', recordedDate: '2026-03-13' }),
    ])
    expectFacts(story, { eventCount: 1, perforation: true, perforationDay: 2, bleeding: false })
    expectAnswers(story, { perforation: 'met' })
  })

  it('a perforation told as a complication and again as a diagnosis of the next day is one', () => {
    // Usual wrong answer: two events; or none, since the complication has no date.
    const story = ask([
      ...examination({ id: 'a', procedure: { complication: [fact('perforation')] } }),
      condition('a', 'diagnosis', fact('perforation'), { onsetDateTime: '2026-03-11' }),
    ])
    expectFacts(story, { eventCount: 1, perforation: true })
    expectAnswers(story, { perforation: 'met' })
  })

  it('bleeding at once, controlled and not serious, is no event', () => {
    // Usual wrong answer: a bleeding after polypectomy.
    const notSerious = {
      seriousness: {
        coding: [{ system: 'http://terminology.hl7.org/CodeSystem/adverse-event-seriousness', code: 'non-serious' }],
      },
    }
    const story = ask([...withPolyp, adverse('event', 'bleeding', '2026-03-10', notSerious)])
    expectFacts(story, { bleeding: false, eventCount: 0, polypRemoved: true })
    expectAnswers(story, { bleeding: 'not-met' })
  })

  it('bleeding after two examinations belongs to the one in which tissue was removed', () => {
    // Usual wrong answer: the latest one, whatever was done in it; or both.
    const first = withPolyp
    const second = examination({ id: 'b', patient: 'patient-a', birthDate: '1966-01-01', date: '2026-03-12' })
    const story = ask([...first, ...second, adverse('event', 'bleeding', '2026-03-15', serious)])
    const told = Object.fromEntries(
      story.records.map(({ procedure, bleeding, bleedingDay }) => [procedure, [bleeding, bleedingDay]]),
    )
    expect(told).toEqual({ 'Procedure/a': [true, 5], 'Procedure/b': [false, undefined] })
  })

  it.each([
    [30, 'met'],
    [31, 'not-met'],
  ] as const)('bleeding on day %i is %s within 30 days', (day, answer) => {
    // Usual wrong answer: a month later is the same day of the next month.
    const date = day === 30 ? '2026-04-09' : '2026-04-10'
    const story = ask([...withPolyp, adverse('event', 'bleeding', date, serious)])
    expectFacts(story, { bleeding: true, bleedingDay: day })
    expectAnswers(story, { bleeding: answer })
  })

  it('of which only the severity and a death of it are told, both are kept', () => {
    // Usual wrong answer: severity is lost.
    const severe = {
      severity: {
        coding: [{ system: 'http://terminology.hl7.org/CodeSystem/adverse-event-severity', code: 'severe' }],
      },
    }
    const story = ask([...plain, adverse('event', 'perforation', '2026-03-11', { ...serious, ...severe })])
    expectFacts(story, {
      perforationSeverity: 'severe',
      perforationDay: 1,
      events: [{ kind: 'perforation', severity: 'severe', day: 1 }],
    })
  })

  it('a fall of oxygen that had to be treated is an event of its own kind', () => {
    // Usual wrong answer: only perforation and bleeding are events.
    const story = ask([...plain, adverse('event', 'cardiopulmonary-event', '2026-03-10T09:20:00Z', serious)])
    expectFacts(story, {
      cardiopulmonaryEvent: true,
      cardiopulmonaryEventDay: 0,
      eventCount: 1,
      perforation: false,
      bleeding: false,
    })
    expectAnswers(story, { perforation: 'not-met' })
  })

  it('an event that only might have happened did not', () => {
    // Usual wrong answer: a near miss is a perforation.
    const story = ask([...plain, adverse('event', 'perforation', '2026-03-10', { actuality: 'potential' })])
    expectFacts(story, { perforation: false, eventCount: 0 })
    expectAnswers(story, { perforation: 'not-met' })
  })
})
