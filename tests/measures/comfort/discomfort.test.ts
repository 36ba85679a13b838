import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'
import { resultOf, times } from '../therapy/result-of.ts'

const uk = 'moderate-or-severe-discomfort-rate-uk-2016'
const withoutAnaesthetist = 'moderate-or-severe-discomfort-rate-without-anaesthetist-descriptive'
const fromZero = 'discomfort-rate-zero-to-four-scale-descriptive'
const scored = (score: number, more: Facts = {}): Facts => ({
  comfortScale: 'one-to-five',
  comfortScore: score,
  comfortOneToFive: score,
  comfortScorer: 'nurse',
  anaesthetistLed: false,
  ...more,
})
/** A score on the scale from 0 to 4, and what the source's map makes of it, where it has one. */
const scoredFromZero = (score: number, mapped?: number): Facts =>
  scored(score, { comfortScale: 'zero-to-four', comfortOneToFive: mapped })
const unscored: Facts = { comfortScale: undefined, comfortScore: undefined, comfortOneToFive: undefined }

// 4 and 5 of 5 are significant discomfort (doi 10.1097/MEG.0000000000000360, read). UK 2016: below 10 % (from memory).
describe('moderate or severe discomfort', () => {
  it.each<[what: string, facts: Facts, oneToFive: AnswerCode, zeroToFour: AnswerCode]>([
    ['1 of 5', scored(1), 'not-met', 'out'],
    ['3 of 5', scored(3), 'not-met', 'out'],
    ['4 of 5', scored(4), 'met', 'out'],
    ['5 of 5', scored(5), 'met', 'out'],
    ['no score', unscored, 'not-recorded', 'eligibility-not-recorded'],
    ['3 of 4 without a map', scoredFromZero(3), 'not-recorded', 'met'],
    ['2 of 4 without a map', scoredFromZero(2), 'not-recorded', 'not-met'],
    ['3 of 4, mapped to 4 of 5', scoredFromZero(3, 4), 'met', 'met'],
    ['2 of 4, mapped to 3 of 5', scoredFromZero(2, 3), 'not-met', 'not-met'],
    ['4 of 4, which no map takes anywhere', scoredFromZero(4), 'not-recorded', 'met'],
  ])('%s', (_, facts, oneToFive, zeroToFour) => {
    expect(answerTo(uk, facts).code).toBe(oneToFive)
    expect(answerTo(withoutAnaesthetist, { ...facts, anaesthetistLed: false }).code).toBe(oneToFive)
    expect(answerTo(fromZero, facts).code).toBe(zeroToFour)
  })

  it('an examination that was stopped keeps its score', () => {
    const stopped: Facts = { completion: 'stopped', stopReason: 'discomfort', caecumReached: false }
    expect(answerTo(uk, scored(5, stopped)).code).toBe('met')
  })

  it('one led by an anaesthetist is kept and counted beside, and leaves the sibling', () => {
    const asleep = scored(1, { anaesthetistLed: true })
    expect(answerTo(uk, asleep)).toEqual({ code: 'not-met', besides: [2] })
    expect(answerTo(withoutAnaesthetist, asleep).code).toBe('excluded')
    expect(answerTo(withoutAnaesthetist, scored(4, { anaesthetistLed: undefined }))).toMatchObject({
      code: 'met',
      exclusionUnrecorded: true,
    })
  })

  it('counts beside scores that were mapped, scores that have no map, and the endoscopist’s own', () => {
    expect(answerTo(uk, scoredFromZero(3, 4)).besides).toEqual([0])
    expect(answerTo(uk, scored(3, { comfortScorer: 'endoscopist' })).besides).toEqual([1])
    expect(answerTo(fromZero, scoredFromZero(3)).besides).toEqual([0])
    expect(answerTo(fromZero, scoredFromZero(3, 4)).besides).toBeUndefined()
  })

  it('at most 10 % from memory, fewer is better; the siblings have no standard', () => {
    expect(measureOf(uk).definition).toMatchObject({
      improvement: 'decrease',
      standard: { minimum: 0.1, fromMemory: true },
    })
    for (const id of [withoutAnaesthetist, fromZero]) {
      expect(measureOf(id).definition.standard).toBeUndefined()
      expect(measureOf(id).definition.improvement).toBe('decrease')
    }
  })

  it('the 17,027 examinations of 23 endoscopists: 7.7 % (World J Gastroenterol 2013;19:2355)', () => {
    // The share is printed, not the count: 1,311 of 17,027 are 7.70 %.
    const { score, settled } = resultOf(uk, [...times(1_311, scored(4)), ...times(17_027 - 1_311, scored(2))])
    expect(settled).toMatchObject({ met: 1_311, denominator: 17_027 })
    expect(score).toBeCloseTo(0.077, 4)
  })

  it('scores without a map widen the bounds instead of pooling', () => {
    const { score, bounds, readBounds, apart } = resultOf(uk, [
      ...times(9, scored(4)),
      ...times(81, scored(2)),
      ...times(10, scoredFromZero(4)),
    ])
    expect(score).toBe(0.1)
    expect(bounds).toEqual({ lower: 0.09, upper: 0.19 })
    expect(readBounds).toBe(true)
    expect(apart['not-recorded']).toBe(10)
  })
})
