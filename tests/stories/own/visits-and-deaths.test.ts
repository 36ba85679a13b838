import { describe, it } from 'vitest'
import { visit } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { examination, type Resource } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// Encounter.class, priority and status, Patient.deceased: FHIR R4. Within 30 days, day 30 included (in print, read); which
// visits were planned: v3-ActPriority of HL7 terminology.
const plain = examination({ id: 'a' })
const priority = (code: string): Resource => ({
  priority: { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ActPriority', code }] },
})

describe('visits and deaths', () => {
  it('an emergency visit on day 7 was not planned', () => {
    // Usual wrong answer: no event code, so nothing happened.
    const story = ask([...plain, visit('a', 'v', 'EMER', '2026-03-17T22:00:00Z')])
    expectFacts(story, {
      hospitalVisitCount: 1,
      visits: [{ day: 7, planned: false }],
      unplannedVisit: true,
      unplannedVisitDay: 7,
      eventCount: 0,
    })
    expectAnswers(story, { perforation: 'not-met' })
  })

  it('a planned admission on day 3 is a visit and no unplanned one', () => {
    // Usual wrong answer: every admission within a week is a complication.
    const story = ask([...plain, visit('a', 'v', 'IMP', '2026-03-13T08:00:00Z', priority('EL'))])
    expectFacts(story, {
      hospitalVisitCount: 1,
      visits: [{ day: 3, planned: true }],
      unplannedVisit: false,
      unplannedVisitDay: undefined,
    })
  })

  it('an admission of which nobody says whether it was planned leaves that open', () => {
    // Usual wrong answer: unplanned, or planned.
    const story = ask([...plain, visit('a', 'v', 'IMP', '2026-03-13T08:00:00Z')])
    expectFacts(story, {
      hospitalVisitCount: 1,
      visits: [{ day: 3, planned: undefined }],
      unplannedVisit: undefined,
    })
  })

  it('day 30 is within and day 31 is not; clinics and cancelled visits are none', () => {
    // Usual wrong answer: every encounter of the patient.
    const story = ask([
      ...plain,
      visit('a', 'v1', 'EMER', '2026-04-09T10:00:00Z'),
      visit('a', 'v2', 'EMER', '2026-04-10T10:00:00Z'),
      visit('a', 'v3', 'AMB', '2026-03-20T10:00:00Z'),
      visit('a', 'v4', 'EMER', '2026-03-21T10:00:00Z', { status: 'cancelled' }),
      visit('a', 'v5', 'EMER', '2026-03-09T10:00:00Z'),
    ])
    expectFacts(story, { hospitalVisitCount: 1, unplannedVisit: true, unplannedVisitDay: 30 })
  })

  it('an emergency visit of the same day, without a time, may have come before: not recorded', () => {
    // Usual wrong answer: a complication; or the reason for the examination.
    const story = ask([...plain, visit('a', 'v', 'EMER', '2026-03-10')])
    expectFacts(story, { hospitalVisitCount: undefined, unplannedVisit: undefined })
  })

  it('a death on day 20 is a death of any cause, and no event', () => {
    // Usual wrong answer: an adverse event; or nothing.
    const story = ask(examination({ id: 'a', person: { deceasedDateTime: '2026-03-30' } }))
    expectFacts(story, { death: true, deathDay: 20, eventCount: 0, perforation: false })
    // Before that day, nobody knew.
    const before = ask(examination({ id: 'a', person: { deceasedDateTime: '2026-03-30' } }), '2026-03-29')
    expectFacts(before, { death: false, deathDay: undefined })
  })

  it('a death without a date is a death on a day not recorded', () => {
    // Usual wrong answer: day 0.
    expectFacts(ask(examination({ id: 'a', person: { deceasedBoolean: true } })), { death: true, deathDay: undefined })
  })

  it('from a source that sends no deaths, the silence is not survival', () => {
    // Usual wrong answer: alive.
    const completeFeeds = northmoor.completeFeeds.filter((kind) => kind !== 'deaths' && kind !== 'visits')
    expectFacts(ask(plain, '2027-01-01', { ...northmoor, completeFeeds }), {
      death: undefined,
      hospitalVisitCount: undefined,
      unplannedVisit: undefined,
    })
  })
})
