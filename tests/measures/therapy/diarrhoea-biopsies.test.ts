import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'

const rectum = 'diarrhoea-biopsy-rate-rectum-uk-2016'
const noCause = 'diarrhoea-biopsy-rate-rectum-no-known-cause-uk-2016'
const sides = 'diarrhoea-biopsy-rate-right-and-left-descriptive'
const us = 'diarrhoea-biopsy-rate-us-2015'
const diarrhoea: Facts = { chronicDiarrhoea: true, referralReason: 'symptoms', tissueTakenOrTreated: true }
/** Numbers of biopsies, each of them the fewest that there can have been as well. */
const biopsies = (right?: number, left?: number, ofRectum?: number): Facts => ({
  ...diarrhoea,
  biopsiesRight: right,
  biopsiesRightAtLeast: right,
  biopsiesLeft: left,
  biopsiesLeftAtLeast: left,
  biopsiesRectum: ofRectum,
  biopsiesRectumAtLeast: ofRectum,
})

// UK 2016, read: rectal biopsies in all; right and left colon, two of each, are an aspiration. US 2015, from memory: 98 %.
describe('biopsies for chronic diarrhoea', () => {
  it.each<[what: string, facts: Facts, rectal: AnswerCode, rightAndLeft: AnswerCode, anywhere: AnswerCode]>([
    ['one of each', biopsies(1, 1, 1), 'met', 'met', 'met'],
    ['of the rectum alone', biopsies(0, 0, 1), 'met', 'not-met', 'met'],
    ['right and left without rectum', biopsies(2, 2, 0), 'not-met', 'met', 'met'],
    ['right alone', biopsies(4, 0, 0), 'not-met', 'not-met', 'met'],
    ['none of any, by their numbers', biopsies(0, 0, 0), 'not-met', 'not-met', 'not-met'],
    ['right stated, the others not', biopsies(2), 'not-recorded', 'not-recorded', 'met'],
    ['left stated as none', biopsies(undefined, 0), 'not-recorded', 'not-met', 'not-recorded'],
    [
      'one pot from the rectum, of unknown number',
      { ...diarrhoea, biopsiesRectumAtLeast: 1 },
      'met',
      'not-recorded',
      'met',
    ],
    [
      'one pot from each side, of unknown number',
      { ...diarrhoea, biopsiesRightAtLeast: 1, biopsiesLeftAtLeast: 1 },
      'not-recorded',
      'met',
      'met',
    ],
    ['no number stated', diarrhoea, 'not-recorded', 'not-recorded', 'not-recorded'],
    ['nothing taken at all', { ...diarrhoea, tissueTakenOrTreated: false }, 'not-met', 'not-met', 'not-met'],
    ['nobody says', { ...diarrhoea, tissueTakenOrTreated: undefined }, 'not-recorded', 'not-recorded', 'not-recorded'],
    [
      'numbers stated, and nothing taken at all: they contradict each other',
      { ...biopsies(2, 2, 2), tissueTakenOrTreated: false },
      'not-recorded',
      'not-recorded',
      'not-recorded',
    ],
    ['another reason', { ...biopsies(0, 0, 0), chronicDiarrhoea: false }, 'out', 'out', 'out'],
    [
      'a reason that cannot be read',
      { ...biopsies(2, 2, 2), chronicDiarrhoea: undefined },
      'eligibility-not-recorded',
      'eligibility-not-recorded',
      'eligibility-not-recorded',
    ],
  ])('%s', (_, facts, rectal, rightAndLeft, anywhere) => {
    expect(answerTo(rectum, facts).code).toBe(rectal)
    expect(answerTo(noCause, facts).code).toBe(rectal)
    expect(answerTo(sides, facts).code).toBe(rightAndLeft)
    expect(answerTo(us, facts).code).toBe(anywhere)
  })

  it('a cause known or first seen is kept, and leaves the sibling', () => {
    for (const cause of ['inflammatoryBowelDisease', 'inflammatoryBowelDiseaseSeen'] as const) {
      const facts = { ...biopsies(0, 0, 0), [cause]: true }
      expect(answerTo(rectum, facts).code).toBe('not-met')
      expect(answerTo(noCause, facts).code).toBe('excluded')
    }
    expect(answerTo(noCause, { ...biopsies(1, 1, 1), inflammatoryBowelDiseaseSeen: undefined })).toMatchObject({
      code: 'met',
      exclusionUnrecorded: true,
    })
  })

  it('two of each side are counted beside, and fewer are no failure', () => {
    for (const id of [rectum, sides]) {
      expect(answerTo(id, biopsies(2, 2, 1))).toMatchObject({ code: 'met', besides: [0] })
      expect(answerTo(id, biopsies(1, 2, 1))).toEqual({ code: 'met' })
      expect(answerTo(id, { ...biopsies(2, undefined, 1), biopsiesLeftAtLeast: 1 })).toEqual({ code: 'met' })
    }
  })

  it('the standards are 100 % as read and 98 % from memory', () => {
    for (const id of [rectum, noCause])
      expect(measureOf(id).definition.standard).toMatchObject({ minimum: 1, fromMemory: false })
    expect(measureOf(us).definition.standard).toMatchObject({ minimum: 0.98, fromMemory: true })
    expect(measureOf(sides).definition.standard).toBeUndefined()
  })
})
