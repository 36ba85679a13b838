import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'
import { resultOf, times } from '../therapy/result-of.ts'

// Sedatives and opioids are sedation, as the UK 2016 table names them (read); nitrous oxide and antispasmodics are not.
describe('without sedation', () => {
  const id = 'unsedated-share-descriptive'

  it.each<[string, Facts, AnswerCode]>([
    ['nothing given', { sedated: false }, 'met'],
    ['sedated', { sedated: true }, 'not-met'],
    ['nitrous oxide alone', { sedated: false, nitrousOxide: true }, 'met'],
    ['an antispasmodic alone', { sedated: false, antispasmodic: true }, 'met'],
    ['nothing said', { sedated: undefined }, 'not-recorded'],
    ['nitrous oxide, and no complete record of drugs', { sedated: undefined, nitrousOxide: true }, 'not-recorded'],
  ])('%s', (_, facts, code) => {
    expect(answerTo(id, facts).code).toBe(code)
  })

  it('counts beside nitrous oxide among the unsedated only, and those led by an anaesthetist', () => {
    expect(answerTo(id, { sedated: false, nitrousOxide: true }).besides).toEqual([0])
    expect(answerTo(id, { sedated: true, nitrousOxide: true }).besides).toBeUndefined()
    expect(answerTo(id, { sedated: true, anaesthetistLed: true }).besides).toEqual([1])
  })

  it('the 5,720 examinations of north-east England: 15.1 % unsedated (abstract, read)', () => {
    // The share is printed, not the count: 864 of 5,720 are 15.10 %.
    const { score, settled } = resultOf(id, [
      ...times(864, { sedated: false }),
      ...times(5_720 - 864, { sedated: true }),
    ])
    expect(settled).toMatchObject({ met: 864, denominator: 5_720 })
    expect(score).toBeCloseTo(0.151, 3)
  })

  it('is neither better nor worse, and has no standard', () => {
    const { improvement, standard } = measureOf(id).definition
    expect({ improvement, standard }).toEqual({ improvement: undefined, standard: undefined })
  })
})

// UK 2016: a count of uses to be looked into (read). Target below 1 % for minor reactions such as unplanned reversal, at screening
// and surveillance: table 3 of doi 10.1159/000358747 (read).
describe('reversal agents', () => {
  const all = 'reversal-agent-rate-descriptive'
  const target = 'reversal-agent-rate-review-2014'
  const screening: Facts = { referralReason: 'screening' }

  it.each<[what: string, facts: Facts, descriptive: AnswerCode, review: AnswerCode]>([
    ['given', { ...screening, sedated: true, reversalAgent: true }, 'met', 'met'],
    ['not given', { ...screening, sedated: true, reversalAgent: false }, 'not-met', 'not-met'],
    ['not recorded', { ...screening, sedated: true, reversalAgent: undefined }, 'not-recorded', 'not-recorded'],
    ['not sedated', { ...screening, sedated: false, reversalAgent: false }, 'out', 'out'],
    [
      'sedation not recorded',
      { ...screening, sedated: undefined, reversalAgent: true },
      'eligibility-not-recorded',
      'eligibility-not-recorded',
    ],
    ['surveillance', { referralReason: 'surveillance', sedated: true, reversalAgent: true }, 'met', 'met'],
    ['symptoms', { referralReason: 'symptoms', sedated: true, reversalAgent: true }, 'met', 'out'],
    [
      'a positive test',
      { referralReason: 'positive-screening-test', sedated: true, reversalAgent: true },
      'met',
      'out',
    ],
    ['no reason', { referralReason: undefined, sedated: true, reversalAgent: true }, 'met', 'eligibility-not-recorded'],
  ])('%s', (_, facts, descriptive, review) => {
    expect(answerTo(all, facts).code).toBe(descriptive)
    expect(answerTo(target, facts).code).toBe(review)
  })

  it('at most 1 % is the target of the review; the UK count has none', () => {
    expect(measureOf(target).definition).toMatchObject({
      improvement: 'decrease',
      standard: { minimum: 0.01, fromMemory: false },
    })
    expect(measureOf(all).definition.standard).toBeUndefined()
  })
})
