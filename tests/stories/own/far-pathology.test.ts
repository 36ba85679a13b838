import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination, fact, pathology, type Resource, snomed, tubularAdenoma } from '../examination.ts'
import { expectAnswers, expectFacts, measureIds } from '../expectations.ts'

// R4 gives a DiagnosticReport no link to a Procedure; real reports are seen to have neither order nor encounter in common, dated
// two or three days after the specimen. Linking by patient and day of collection, where no rival examination is near, is common
// practice, no source.
const jar = (collection: Resource): Resource => ({
  resourceType: 'Specimen',
  id: 'jar',
  subject: { reference: 'Patient/p' },
  collection,
})
const report = pathology('p', {
  issued: '2026-03-13T10:00:00Z',
  patient: 'p',
  results: [{ specimen: 'jar', code: tubularAdenoma }],
})
const removed = [{ handling: 'removed' as const }]
const first = examination({ id: 'first', patient: 'p', birthDate: '1966-01-01', polyps: removed })

describe('a report that nothing but its patient and days ties to the examination', () => {
  const sigmoid = { bodySite: snomed('60184004'), collectedDateTime: '2026-03-10T09:20:00Z' }

  it('from a jar of the sigmoid collected on the day, it is the examination’s, by the weakest rung', () => {
    // Usual wrong answer: no link, so histology is missing for good.
    const story = ask([...first, jar(sigmoid), ...report])
    expectFacts(story, { pathology: 'final', adenomaFound: true, adenomaCount: 1 })
    expectAnswers(story, { us: 'met' })
    expect(story.takenDown().rungsOf('adenomaFound')).toContain('same patient within the time window')
  })

  it('where two examinations of one day may have filled the jar, it is given to neither, and listed', () => {
    // Usual wrong answer: to the later one, or to both.
    const second = examination({
      id: 'second',
      patient: 'p',
      birthDate: '1966-01-01',
      polyps: removed,
      procedure: { performedPeriod: { start: '2026-03-10T15:00:00Z', end: '2026-03-10T15:30:00Z' } },
    })
    const story = ask([...first, ...second, jar({ ...sigmoid, collectedDateTime: '2026-03-10' }), ...report])
    expect(story.counted(measureIds.us)).toEqual({ 'not-recorded': 2 })
    expect(story.leftOut.map(({ reason }) => reason)).toContain('link ambiguous')
  })

  it('from a jar of the stomach it says nothing of the colon', () => {
    // Usual wrong answer: the same day and patient, so the same procedure.
    const stomach = { ...sigmoid, bodySite: fact('upper-gastrointestinal-tract') }
    const story = ask([...first, jar(stomach), ...report])
    expectFacts(story, { adenomaFound: undefined, pathology: 'missing' })
    expectAnswers(story, { us: 'not-recorded' })
  })
})
