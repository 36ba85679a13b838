import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { expectCourse } from './course-and-preparation.ts'
import { amount, examination, whole as score, word } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'
import { expectNothingAfterwards } from './nothing-afterwards.ts'
import { expectFound, nothingFound } from './what-was-found.ts'

// A segment not seen because of stool scores 0: the Boston scale's own rule (Lai, Gastrointest Endosc 2009), from memory.
// Answers worked by hand from UK 2016 (unadjusted, photographic proof), the UK audit 2011 (adjusted for preparation and
// stricture) and US 2024 (each Boston segment at least 2).
const stopped = {
  id: 'b',
  birthDate: '1968-01-01',
  status: 'stopped',
  stopReason: 'inadequate-preparation',
  extent: 'sigmoid',
  photographs: [],
  boston: { left: 0 },
}
const repeat = [word('advice', 'repeat-colonoscopy'), amount('advised-interval', 3, 'mo')]
const preparation = 'adequate-bowel-preparation-rate-us-2024'
const unadjusted = 'caecal-intubation-rate-uk-2016'
const adjusted = 'caecal-intubation-rate-adjusted-uk-2011'
const us = 'adenoma-detection-rate-us-2024'

describe('turned back at the sigmoid because of stool', () => {
  it.each([
    ['with a score of 0 on the left', stopped],
    ['with the reason alone', { ...stopped, boston: {} }],
  ])('%s: inadequate, not reached, left out of the adjusted rate, and still without an adenoma', (_, facts) => {
    const story = ask(examination(facts))
    expect(story.answer(preparation).code).toBe('not-met')
    expect(story.answer(unadjusted).code).toBe('not-met')
    expect(story.answer(adjusted).code).toBe('excluded')
    expect(story.answer(us).code).toBe('not-met')
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('out')
    expectFound(story, { ...nothingFound, screening: 'not-met', usBut: { 'complete-and-prepared': 'excluded' } })
    expect(story.answer('withdrawal-time-us-2024').code).toBe('out')
  })

  it('the record holds the stop, its reason and the segments that stool hid', () => {
    const scored = ask(examination({ ...stopped, said: repeat }))
    expectFacts(scored, {
      completion: 'stopped',
      stopReason: 'inadequate-preparation',
      stoppedForPreparation: true,
      extent: 'sigmoid',
      caecumReached: false,
      impassableStricture: false,
      preparationLeft: 0,
      preparationTransverse: 0,
      preparationRight: 0,
      segmentsAllAtLeast2: false,
      polypCount: 0,
      advice: 'repeat-colonoscopy',
      advisedIntervalMonths: 3,
    })
    const unscored = ask(examination({ ...stopped, boston: {}, said: repeat }))
    expectFacts(unscored, {
      stoppedForPreparation: true,
      preparationScale: undefined,
      preparationLeft: undefined,
      advisedIntervalMonths: 3,
    })
    for (const story of [scored, unscored]) expectAnswers(story, { perforation: 'not-met', bleeding: 'out' })
    // Both left out by the adjustment of US 2015, and to be repeated within the year, as was advised; unscored, nothing was recorded.
    for (const story of [scored, unscored])
      expectCourse(story, {
        reason: 'screening',
        reached: false,
        prepared: 'not-met',
        but: {
          'caecal-intubation-rate-adjusted-us-2015': 'excluded',
          'caecal-intubation-rate-adjusted-screening-us-2015': 'excluded',
          'repeat-within-a-year-after-inadequate-preparation-us-2015': 'met',
          'preparation-recorded-descriptive': story === scored ? 'met' : 'not-met',
        },
      })
    for (const story of [scored, unscored]) expectNothingAfterwards(story, { screening: 'itself', removed: 'out' })
    // No table of intervals is meant for an incomplete examination, nor the government's for one that was stopped.
    for (const story of [scored, unscored])
      expectAnswers(story, {
        intervalUs: 'excluded',
        intervalEu: 'excluded',
        intervalUk: 'excluded',
        intervalAfterNormal: 'out',
      })
  })

  it('where the scores contradict the reason, preparation is not recorded and nothing is adjusted', () => {
    const comfort = score('comfort-one-to-five', 5)
    const story = ask(
      examination({ ...stopped, extent: 'hepatic-flexure', boston: { left: 3, transverse: 3 }, said: [comfort] }),
    )
    expectFacts(story, {
      stopReason: 'inadequate-preparation',
      stoppedForPreparation: undefined,
      preparationRight: undefined,
      segmentsAllAtLeast2: undefined,
      comfortScale: 'one-to-five',
      comfortScore: 5,
      comfortOneToFive: 5,
    })
    expect(story.takenDown().contradictions).toContain('stopped for preparation that is scored good')
    expectAnswers(story, { us: 'not-met', uk: 'out', withdrawal: 'out' })
    expectFound(story, { ...nothingFound, screening: 'not-met', usBut: { 'complete-and-prepared': 'excluded' } })
    // Not adjusted by US 2015 either; whether it had to be repeated nobody can say, so it is outside that measure too.
    expectCourse(story, {
      reason: 'screening',
      reached: false,
      prepared: 'not-recorded',
      but: {
        'repeat-within-a-year-after-inadequate-preparation-us-2015': 'eligibility-not-recorded',
        'comfort-recorded-descriptive': 'met',
      },
    })
    expectNothingAfterwards(story, { screening: 'itself', removed: 'out' })
    expect(story.answer(preparation).code).toBe('not-recorded')
    // Incomplete is no reason to leave comfort out: 5 of 5 is severe.
    expect(story.answer('moderate-or-severe-discomfort-rate-uk-2016').code).toBe('met')
    expect(story.answer(adjusted).code).toBe('not-met')
    expect(story.answer(unadjusted).code).toBe('not-met')
  })

  it('42 adequate, 3 scored inadequate and 5 stopped unscored are 42 of 50, not 42 of 45', () => {
    const many = (count: number, name: string, facts: object) =>
      Array.from({ length: count }, (_, index) => examination({ ...facts, id: `${name}-${index}` })).flat()
    const { whole } = ask([
      ...many(42, 'good', {}),
      ...many(3, 'poor', { boston: { right: 1, transverse: 2, left: 2 } }),
      ...many(5, 'stopped', { ...stopped, boston: {} }),
    ]).report(preparation, { start: '2026-01-01', end: '2026-06-30' })
    expect(whole.settled).toMatchObject({ met: 42, notMet: 8 })
    expect(whole.score).toBe(0.84)
  })

  it('a total of 6 made of 3, 3 and 0 is inadequate', () => {
    // Clinical practice update 2021: total of at least 6 with each segment at least 2.
    expect(ask(examination({ id: 'c', boston: { right: 3, transverse: 3, left: 0 } })).answer(preparation).code).toBe(
      'not-met',
    )
  })
})
