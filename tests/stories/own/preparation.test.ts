import { describe, expect, it } from 'vitest'
import { condition } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { examination, fact, snomed, word } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// Boston scale: three segments of 0 to 3 (Lai, Gastrointest Endosc 2009, from memory); adequate is a total of at least 6 with each
// segment at least 2 (clinical practice update 2021, read). A segment that was resected has no score: common practice, no
// source. US 2024 counts outpatients (read).
const total = (valueInteger: number) => [{ code: snomed('722818007'), valueInteger }]

describe('how clean it was', () => {
  it('3, 3 and 0, with the total of 6 beside them, is inadequate', () => {
    // Usual wrong answer: 6 is enough.
    const story = ask(examination({ id: 'a', boston: { right: 0, transverse: 3, left: 3 }, said: total(6) }))
    expectFacts(story, { preparationScale: 'boston', preparationTotal: 6, segmentsAllAtLeast2: false })
    expectAnswers(story, { preparation: 'not-met', caecum: 'met', caecumAdjusted: 'met' })
  })

  it('after right hemicolectomy two segments of 2 and 3 are all there are', () => {
    // Usual wrong answer: a total of 5, inadequate; or a missing segment, not recorded.
    const story = ask([
      ...examination({
        id: 'a',
        extent: 'anastomosis',
        photographs: ['anastomosis'],
        boston: { transverse: 2, left: 3 },
        withdrawalMinutes: 9,
      }),
      condition('a', 'resection', fact('right-hemicolectomy'), { recordedDate: '2019-04-01' }),
    ])
    expectFacts(story, {
      earlierResection: true,
      resectedPart: 'right',
      rightSegmentPresent: false,
      transverseSegmentPresent: true,
      leftSegmentPresent: true,
      preparationRight: undefined,
      preparationTotal: 5,
      segmentsAllAtLeast2: true,
      caecumReached: true,
    })
    // The anastomosis completes it (UK 2016); less colon to look at is out of the mean of withdrawal (from memory).
    expectAnswers(story, { preparation: 'met', caecum: 'met', withdrawal: 'excluded' })
  })

  it('without any resection, a segment without a score leaves the answer open', () => {
    // Usual wrong answer: adequate, by the two that are good.
    const story = ask(examination({ id: 'a', boston: { transverse: 2, left: 3 } }))
    expectFacts(story, { rightSegmentPresent: true, preparationTotal: undefined, segmentsAllAtLeast2: undefined })
    expectAnswers(story, { preparation: 'not-recorded' })
  })

  it.each([
    [5, false, 'not-met'],
    [6, undefined, 'not-recorded'],
    [7, undefined, 'not-recorded'],
    [8, true, 'met'],
    [9, true, 'met'],
  ] as const)('a total of %i alone', (score, segmentsAllAtLeast2, preparation) => {
    // Usual wrong answer: 6 and 7 are adequate; they may be 3, 3, 0 and 3, 3, 1. 8 is at worst 3, 3, 2.
    const story = ask(examination({ id: 'a', boston: {}, said: total(score) }))
    expectFacts(story, { preparationTotal: score, segmentsAllAtLeast2, preparationRight: undefined })
    expectAnswers(story, { preparation })
  })

  it('a grade is a grade: guidelines draw the line at different ones', () => {
    // Usual wrong answer: "fair" made adequate, or inadequate, by the reader.
    const story = ask(examination({ id: 'a', boston: {}, said: [word('preparation', 'fair')] }))
    expectFacts(story, { preparationScale: 'grade', preparationGrade: 'fair', preparationLevel: undefined })
    // The measure asks for scores or a stated level.
    expectAnswers(story, { preparation: 'not-recorded' })
  })

  it.each([
    ['703141002', 'adequate', 'met'],
    ['413261003', 'inadequate', 'not-met'],
  ] as const)('a level stated as SNOMED CT %s is %s', (code, preparationLevel, preparation) => {
    // Usual wrong answer: no score, not recorded.
    const stated = { code: snomed('225106003'), valueCodeableConcept: snomed(code) }
    const story = ask(examination({ id: 'a', boston: {}, said: [stated] }))
    expectFacts(story, { preparationScale: 'stated-level', preparationLevel, segmentsAllAtLeast2: undefined })
    expectAnswers(story, { preparation })
  })

  it('a score of 4 is outside the scale: unreadable, listed, and no score', () => {
    // Usual wrong answer: 4 is at least 2.
    const story = ask(examination({ id: 'a', boston: { right: 4, transverse: 3, left: 3 } }))
    expectFacts(story, { preparationRight: undefined, segmentsAllAtLeast2: undefined })
    expectAnswers(story, { preparation: 'not-recorded' })
    expect(story.takenDown().unreadable).toContain('preparationRight')
  })

  it('an inpatient with a dirty bowel is outside the outpatients’ rate', () => {
    // Usual wrong answer: counted against the unit.
    const story = ask(examination({ id: 'a', encounterClass: 'IMP', boston: { right: 1, transverse: 1, left: 1 } }))
    expectFacts(story, { setting: 'inpatient', preparationTotal: 3, segmentsAllAtLeast2: false })
    expectAnswers(story, { preparation: 'out', us: 'not-met' })
  })

  it('where the history feed is not complete, nobody knows that an unscored segment exists', () => {
    // Usual wrong answer: every patient has three segments.
    const completeFeeds = northmoor.completeFeeds.filter((kind) => kind !== 'history')
    const story = ask(examination({ id: 'a', boston: { transverse: 3, left: 3 } }), '2027-01-01', {
      ...northmoor,
      completeFeeds,
    })
    expectFacts(story, {
      rightSegmentPresent: undefined,
      transverseSegmentPresent: true,
      earlierResection: undefined,
      segmentsAllAtLeast2: undefined,
    })
    expectAnswers(story, { preparation: 'not-recorded' })
  })
})
