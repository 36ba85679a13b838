import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { expectCourse } from './course-and-preparation.ts'
import { examination, hyperplastic, pathology, tubularAdenoma } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'
import { northmoor } from './northmoor.ts'
import { expectNothingAfterwards } from './nothing-afterwards.ts'
import { everyKind, expectFound, nothingFound } from './what-was-found.ts'

// Worked by hand from the published definitions (US 2024, UK 2016) and the rule that a final report of a complete feed with
// no polyp means no polyp. Wilson limits of 4/10: R 4.2.2, prop.test(4, 10, correct = FALSE).
const us = 'adenoma-detection-rate-us-2024'
const perColonoscopy = 'adenomas-per-colonoscopy-descriptive'
const nothing = { id: 'a', withdrawalMinutes: 9 }

describe('nothing found, nothing sent', () => {
  it('a final report without a polyp, from a complete feed, is a negative examination', () => {
    const story = ask(examination(nothing))
    expect(story.records[0]).toMatchObject({
      polypCount: 0,
      adenomaFound: false,
      adenomaCount: 0,
      pathology: 'not-sent',
    })
    expect(story.answer(us).code).toBe('not-met')
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('out')
    expect(story.answer('withdrawal-time-us-2024')).toEqual({ code: 'met', value: 9 })
    expect(story.answer(perColonoscopy)).toMatchObject({ code: 'met', value: 0 })
    // Nothing was removed: outside the bleeding rate. Both landmarks photographed, Boston 3-3-3, nothing happened after.
    expectAnswers(story, {
      caecum: 'met',
      caecumAdjusted: 'met',
      preparation: 'met',
      perforation: 'not-met',
      bleeding: 'out',
    })
    expect(story.takenDown().rungsOf('polypCount')).toEqual(['final report in a complete feed'])
    expectFound(story, { ...nothingFound, screening: 'not-met' })
    expectCourse(story, { reason: 'screening', withdrawal: 'met' })
    expectNothingAfterwards(story, { screening: 'itself', removed: 'out' })
    // Nobody says anything of an attachment.
    expectAnswers(story, { attachedBefore: 'not-recorded', attachmentCaution: 'eligibility-not-recorded' })
    // Of the next examination the story says nothing: no advice is neither agreement nor disagreement.
    expectAnswers(story, {
      intervalUs: 'not-recorded',
      intervalEu: 'not-recorded',
      intervalUk: 'not-recorded',
      intervalAfterNormal: 'not-recorded',
      screeningAt86: 'not-met',
    })
  })

  it('while the report is preliminary, nothing it might say is settled', () => {
    const story = ask(examination({ ...nothing, report: 'preliminary' }), '2026-03-20')
    for (const id of [us, 'withdrawal-time-us-2024', perColonoscopy]) {
      const { code } = story.answer(id)
      // Withdrawal time asks for examinations in which nothing was taken, which an open report does not say.
      expect(code).toBe('pending')
    }
    for (const id of ['perforation-rate-30-day-descriptive', 'cardiopulmonary-event-rate-1-day-descriptive'])
      expect(story.answer(id).code).toBe('pending')
    expectAnswers(story, { attachedBefore: 'pending' })
    expectFacts(story, { report: 'preliminary', polypCount: undefined, adenomaFound: undefined, pathology: undefined })
    // What is written already may still change, and what is not may still come.
    for (const id of ['caecal-intubation-rate-eu-2017', 'withdrawal-time-uk-2016', 'comfort-recorded-descriptive'])
      expect(story.answer(id).code).toBe('pending')
    expectFound(story, {
      us: 'pending',
      eu: 'pending',
      screening: 'pending',
      polypsEu: 'pending',
      polyps: 'pending',
      perPositive: 'pending',
      ...everyKind('pending'),
    })
    // Programme screening is outside the UK standard, whatever the report will say.
    expectAnswers(story, { uk: 'out', intervalUs: 'pending', intervalEu: 'pending', intervalUk: 'pending' })
  })

  it('where a source never sends polyps or pathology, detection is not available: neither 0 nor 100 per cent', () => {
    const undeclared = { ...northmoor, completeFeeds: [] }
    const examinations = Array.from({ length: 400 }, (_, index) => examination({ ...nothing, id: `n${index}` })).flat()
    for (const source of [undeclared, northmoor]) {
      const story = ask(examinations, '2027-01-01', source)
      const ofDetection = [
        'adenoma-detection-rate-eu-2017',
        'adenoma-detection-rate-us-2015',
        'adenoma-or-cancer-detection-rate-us-government-2019',
        'sessile-serrated-lesion-detection-rate-us-2024',
        'polyp-detection-rate-descriptive',
        'adenomas-per-positive-colonoscopy-descriptive',
        'advanced-adenoma-detection-rate-with-villous-descriptive',
        'cancer-detection-rate-descriptive',
      ]
      for (const id of [us, perColonoscopy, 'withdrawal-time-us-2024', ...ofDetection]) {
        const { whole } = story.report(id, { start: '2026-01-01', end: '2026-12-31' })
        expect(whole.score).toBeUndefined()
        expect(whole.absentBecause).toBe('not-available')
        expect(whole.apart['not-available']).toBe(400)
      }
      expect(story.counted('adenoma-detection-rate-uk-2016')).toEqual({ out: 400 })
      // Events of a source that declares nothing are unknown; of one that declares them complete, none is none.
      const { whole } = story.report('perforation-rate-7-day-descriptive', { start: '2026-01-01', end: '2026-12-31' })
      expect([whole.absentBecause, whole.score]).toEqual(
        source === northmoor ? [undefined, 0] : ['not-available', undefined],
      )
    }
  })

  it('a pathology report tells of an adenoma that no polyp resource mentions', () => {
    const story = ask([
      ...examination(nothing),
      ...pathology('p', {
        issued: '2026-03-13T10:00:00Z',
        results: [{ code: tubularAdenoma }],
        patient: 'patient-a',
        encounterOf: 'a',
      }),
    ])
    expect(story.records[0]).toMatchObject({ polypCount: 1, adenomaFound: true, adenomaCount: 1 })
    expect(story.answer(us).code).toBe('met')
    expect(story.answer('withdrawal-time-us-2024').code).toBe('out')
    expect(story.answer(perColonoscopy)).toMatchObject({ code: 'met', value: 1 })
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('out')
    // Of a polyp that pathology alone tells of, nobody says how the tissue was taken.
    expectNothingAfterwards(story, { screening: 'itself', removed: 'eligibility-not-recorded' })
    // A tubular adenoma of which neither size nor site nor grade is told.
    expectFound(story, {
      us: 'met',
      eu: 'met',
      screening: 'met',
      polypsEu: 'met',
      polyps: 'met',
      perPositive: 'met',
      ...everyKind('not-recorded'),
      sessileUs: 'not-met',
      serrated: 'not-met',
      optical: 'met',
      cancer: 'not-met',
    })
    const { contradictions, rungsOf } = story.takenDown()
    expect(contradictions).toContain('pathology finds a polyp where none was recorded')
    expect(rungsOf('polypCount')).toContain('inferred from pathology')
  })

  it('the same report as text alone tells of it only where the source has its text read', () => {
    const inWords = [
      ...examination(nothing),
      ...pathology('p', {
        issued: '2026-03-13T10:00:00Z',
        results: [],
        patient: 'patient-a',
        encounterOf: 'a',
        more: { conclusion: 'Sigmoid colon, polyp: tubular adenoma.' },
      }),
    ]
    // A final report that nobody can read is neither an adenoma nor none.
    const unread = ask(inWords)
    expectFacts(unread, { pathology: 'unreadable', adenomaFound: undefined, histologySource: undefined })
    expectAnswers(unread, { us: 'not-recorded', uk: 'out' })
    const read = ask(inWords, '2027-01-01', { ...northmoor, readsText: true })
    expectFacts(read, { pathology: 'final', polypCount: 1, adenomaFound: true, histologySource: 'text' })
    expectAnswers(read, { us: 'met', uk: 'out', withdrawal: 'out', perColonoscopy: { code: 'met', value: 1 } })
    expect(read.takenDown().doubts).toContain('histology read from free text')
    expect(read.takenDown().contradictions).toContain('pathology finds a polyp where none was recorded')
  })

  it('a polyp of which neither removal nor histology is told leaves detection not recorded', () => {
    const story = ask(examination({ ...nothing, polyps: [{ millimetres: 4 }] }))
    expect(story.records[0]).toMatchObject({ polypCount: 1 })
    expect(story.answer(us).code).toBe('not-recorded')
    expect(story.answer(perColonoscopy).code).toBe('not-recorded')
    expect(story.answer('withdrawal-time-us-2024').code).toBe('eligibility-not-recorded')
    expectFound(story, {
      us: 'not-recorded',
      eu: 'not-recorded',
      screening: 'not-recorded',
      polypsEu: 'met',
      polyps: 'met',
      perPositive: 'not-recorded',
      ...everyKind('not-recorded'),
    })
    // Whether it was removed is not told, so neither is whether bleeding after removal could happen.
    expectAnswers(story, { uk: 'out', bleeding: 'eligibility-not-recorded' })
    expectNothingAfterwards(story, { screening: 'itself', removed: 'eligibility-not-recorded' })
  })

  it('six negative and four with an adenoma are 4 of 10, not 4 of 4', () => {
    const negative = Array.from({ length: 6 }, (_, index) => examination({ ...nothing, id: `n${index}` })).flat()
    const positive = Array.from({ length: 4 }, (_, index) => [
      ...examination({ id: `p${index}`, polyps: [{ handling: 'removed', specimen: `pot-${index}` }] }),
      ...pathology(`report-${index}`, {
        issued: '2026-03-14T10:00:00Z',
        results: [{ specimen: `pot-${index}`, code: tubularAdenoma }],
      }),
    ]).flat()
    const { whole } = ask([...negative, ...positive]).report(us, { start: '2026-01-01', end: '2026-06-30' })
    expect(whole.settled).toMatchObject({ met: 4, notMet: 6, denominator: 10 })
    expect(whole.score).toBe(0.4)
    expect(whole.interval?.lower).toBeCloseTo(0.1682, 4)
    expect(whole.interval?.upper).toBeCloseTo(0.6873, 4)
  })

  it('a hyperplastic polyp alone is not an adenoma', () => {
    const story = ask([
      ...examination({ ...nothing, polyps: [{ handling: 'removed', specimen: 'pot' }] }),
      ...pathology('p', { issued: '2026-03-14T10:00:00Z', results: [{ specimen: 'pot', code: hyperplastic }] }),
    ])
    expect(story.records[0]).toMatchObject({ adenomaFound: false, hyperplasticCount: 1, adenomaCount: 0 })
    expect(story.answer(us).code).toBe('not-met')
  })
})
