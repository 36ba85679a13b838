import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, hyperplastic, pathology, tubularAdenoma } from '../stories/examination.ts'

// The ladder is this service's own rule: direct reference, order, encounter, then patient and time without a rival.
const removed = { handling: 'removed' as const }
const event = (kind: string, date: string, more: Record<string, unknown> = {}) => ({
  resourceType: 'AdverseEvent',
  id: `event-${date}`,
  actuality: 'actual',
  event: fact(kind),
  subject: { reference: 'Patient/p' },
  date,
  ...more,
})
const seriousness = (code: string) => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/adverse-event-seriousness', code }],
})

describe('pathology finds its examination', () => {
  const exam = examination({ id: 'a', patient: 'p', polyps: [removed] })
  const issued = '2026-03-14T10:00:00Z'
  const results = [{ code: tubularAdenoma }]

  it('by the encounter they share', () => {
    expect(ask([...exam, ...pathology('r', { issued, results, encounterOf: 'a' })]).records[0]?.adenomaCount).toBe(1)
  })

  it('by patient and time, where no other examination rivals', () => {
    expect(ask([...exam, ...pathology('r', { issued, results, patient: 'p' })]).records[0]?.adenomaCount).toBe(1)
  })

  it('not by patient and time where two examinations could be meant: listed, and guessed for neither', () => {
    const second = examination({ id: 'b', patient: 'p', date: '2026-03-11', polyps: [removed] })
    const story = ask([...exam, ...second, ...pathology('r', { issued, results, patient: 'p' })])
    expect(story.records.map(({ adenomaFound }) => adenomaFound)).toEqual([undefined, undefined])
    expect(story.leftOut).toContainEqual({ reference: 'DiagnosticReport/r', reason: 'link ambiguous' })
  })

  it('not where the tissue is of something else', () => {
    const foot = pathology('r', { issued, results: [{ code: '111111' }], patient: 'p' })
    expect(ask([...exam, ...foot]).records[0]?.pathology).toBe('missing')
  })

  it('the biopsies of an upper endoscopy on the same day stay with it', () => {
    const stomach = {
      resourceType: 'Specimen',
      id: 'stomach',
      subject: { reference: 'Patient/p' },
      collection: { collectedDateTime: '2026-03-10', bodySite: fact('upper-gastrointestinal-tract') },
    }
    const upper = pathology('r', {
      issued,
      results: [{ specimen: 'stomach', code: '30389008' }],
      patient: 'p',
      encounterOf: 'a',
    })
    const clean = examination({ id: 'a', patient: 'p' })
    expect(ask([...clean, stomach, ...upper]).records[0]).toMatchObject({
      pathology: 'not-sent',
      tissueTakenOrTreated: false,
    })
  })

  it('a later final report closes an earlier preliminary one and corrects it', () => {
    const pot = examination({ id: 'a', polyps: [{ ...removed, specimen: 'pot' }] })
    const first = pathology('r1', { issued, status: 'preliminary', results: [{ specimen: 'pot', code: hyperplastic }] })
    const second = pathology('r2', {
      issued: '2026-03-20T10:00:00Z',
      results: [{ specimen: 'pot', code: tubularAdenoma }],
    })
    expect(ask([...pot, ...first]).records[0]?.pathology).toBe('missing')
    expect(ask([...pot, ...first, ...second]).records[0]).toMatchObject({
      pathology: 'final',
      adenomaCount: 1,
      hyperplasticCount: 0,
    })
  })

  it('one result of a pot with three polyps counts three', () => {
    const pot = { ...removed, specimen: 'pot' }
    const three = examination({ id: 'a', polyps: [pot, pot, pot] })
    const report = pathology('r', { issued, results: [{ specimen: 'pot', code: tubularAdenoma }] })
    expect(ask([...three, ...report]).records[0]?.adenomaCount).toBe(3)
  })

  it('a final report of codes that nobody knows is unreadable, not negative', () => {
    const pot = examination({ id: 'a', polyps: [{ ...removed, specimen: 'pot' }] })
    const report = pathology('r', { issued, results: [{ specimen: 'pot', code: '999999' }] })
    const story = ask([...pot, ...report])
    expect(story.records[0]).toMatchObject({ pathology: 'unreadable' })
    expect(story.records[0]?.adenomaFound).toBeUndefined()
  })
})

describe('an event belongs to one examination', () => {
  const quiet = examination({ id: 'quiet', patient: 'p', date: '2026-03-12' })
  const polypectomy = examination({ id: 'snare', patient: 'p', date: '2026-03-10', polyps: [removed] })

  it('a bleeding to the latest in which tissue was taken, a perforation to the latest', () => {
    const story = ask([...polypectomy, ...quiet, event('bleeding', '2026-03-15'), event('perforation', '2026-03-13')])
    const facts = Object.fromEntries(
      story.records.map(({ procedure, bleedingDay, perforationDay }) => [procedure, { bleedingDay, perforationDay }]),
    )
    expect(facts).toEqual({
      'Procedure/snare': { bleedingDay: 5, perforationDay: undefined },
      'Procedure/quiet': { bleedingDay: undefined, perforationDay: 1 },
    })
  })

  it('the one it names, even where another is nearer', () => {
    const named = { suspectEntity: [{ instance: { reference: 'Procedure/snare' } }] }
    const story = ask([...polypectomy, ...quiet, event('perforation', '2026-03-13', named)])
    expect(story.records.find(({ procedure }) => procedure === 'Procedure/snare')?.perforationDay).toBe(3)
    expect(story.records.find(({ procedure }) => procedure === 'Procedure/quiet')?.perforation).toBe(false)
  })

  it('told twice it counts once, from its first day', () => {
    const again = {
      resourceType: 'Condition',
      id: 'c',
      code: fact('bleeding'),
      subject: { reference: 'Patient/p' },
      recordedDate: '2026-03-16',
    }
    const [record] = ask([...polypectomy, event('bleeding', '2026-03-15'), again]).records
    expect(record).toMatchObject({ bleeding: true, bleedingDay: 5 })
  })

  it('immediate bleeding controlled without consequence is none', () => {
    const [record] = ask([
      ...polypectomy,
      event('bleeding', '2026-03-10', { seriousness: seriousness('Non-serious') }),
    ]).records
    expect(record?.bleeding).toBe(false)
    const [serious] = ask([
      ...polypectomy,
      event('bleeding', '2026-03-10', { seriousness: seriousness('Serious') }),
    ]).records
    expect(serious).toMatchObject({ bleeding: true, bleedingDay: 0 })
  })

  it('a potential event, or one refuted, is none', () => {
    const refuted = {
      resourceType: 'Condition',
      id: 'c',
      code: fact('perforation'),
      subject: { reference: 'Patient/p' },
      recordedDate: '2026-03-11',
      verificationStatus: { coding: [{ code: 'refuted' }] },
    }
    const [record] = ask([...polypectomy, refuted, event('bleeding', '2026-03-15', { actuality: 'potential' })]).records
    expect(record).toMatchObject({ perforation: false, bleeding: false })
  })

  it('day 30 counts and day 31 does not', () => {
    const answer = (date: string) =>
      ask([...polypectomy, event('bleeding', date)]).answer('post-polypectomy-bleeding-rate-30-day-descriptive').code
    expect(answer('2026-04-09')).toBe('met')
    expect(answer('2026-04-10')).toBe('not-met')
  })
})
