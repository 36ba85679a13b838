import { describe, expect, it } from 'vitest'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { measureOf } from '../measure-of.ts'
import { asked } from './asked.ts'
import { advised, examined, tubular } from './found-and-advised.ts'

const code = (id: string, record: Colonoscopy) => asked(measureOf(id), record).answer.code

// US government measure 320, text of 2024; the exceptions are from memory.
describe('ten years after a normal screening colonoscopy', () => {
  const id = 'interval-after-normal-screening-us-government-2024'
  it.each<[string, Partial<Colonoscopy>, string]>([
    ['ten years', {}, 'met'],
    ['521 weeks, 119.9 months', { advisedIntervalMonths: 119.9 }, 'met'],
    ['nine years and eleven months', { advisedIntervalMonths: 119 }, 'not-met'],
    ['five years', { advisedIntervalMonths: 60 }, 'not-met'],
    ['twelve years', { advisedIntervalMonths: 144 }, 'met'],
    ['aged 44', { age: 44 }, 'out'],
    ['aged 45', { age: 45 }, 'met'],
    ['aged 75', { age: 75 }, 'met'],
    ['aged 76', { age: 76 }, 'out'],
    ['age unknown', { age: undefined }, 'eligibility-not-recorded'],
    ['surveillance', { referralReason: 'surveillance' }, 'out'],
    ['after a positive test', { referralReason: 'positive-screening-test' }, 'out'],
    ['reason unknown', { referralReason: undefined }, 'eligibility-not-recorded'],
    ['tissue taken', { tissueTakenOrTreated: true }, 'out'],
    ['whether tissue was taken unknown', { tissueTakenOrTreated: undefined }, 'eligibility-not-recorded'],
    ['stopped', { completion: 'stopped' }, 'out'],
    ['no advice', { advice: undefined, advisedIntervalMonths: undefined }, 'not-recorded'],
    ['a repeat without an interval', { advisedIntervalMonths: undefined }, 'not-recorded'],
    ['a clinic review alone', { advice: 'clinic-review', advisedIntervalMonths: undefined }, 'not-recorded'],
    ['none further', { advice: 'no-further-colonoscopy', advisedIntervalMonths: undefined }, 'not-met'],
    ['none further at 65', { age: 65, advice: 'no-further-colonoscopy', advisedIntervalMonths: undefined }, 'not-met'],
    ['none further at 66', { age: 66, advice: 'no-further-colonoscopy', advisedIntervalMonths: undefined }, 'excepted'],
    ['five years at 66', { age: 66, advisedIntervalMonths: 60 }, 'excepted'],
    ['five years, poor preparation', { segmentsAllAtLeast2: false, advisedIntervalMonths: 60 }, 'excepted'],
    ['ten years, poor preparation', { segmentsAllAtLeast2: false }, 'met'],
    ['five years, family history', { familyHistoryOfColorectalCancer: true, advisedIntervalMonths: 60 }, 'excepted'],
    ['five years, an earlier adenoma', { earlierAdenoma: true, advisedIntervalMonths: 60 }, 'excepted'],
    ['five years, earlier cancer', { earlierColorectalCancer: true, advisedIntervalMonths: 60 }, 'excepted'],
    ['five years, colitis', { inflammatoryBowelDisease: true, advisedIntervalMonths: 60 }, 'excepted'],
    ['five years, a syndrome', { hereditarySyndrome: true, advisedIntervalMonths: 60 }, 'excepted'],
    ['five years, history unknown', { earlierAdenoma: undefined, advisedIntervalMonths: 60 }, 'not-met'],
  ])('%s: %o is %s', (_, more, answer) => {
    expect(code(id, examined([], { ...advised(120), ...more }))).toBe(answer)
  })

  it('how many are longer, and how many are none, is counted beside', () => {
    const beside = (months: number | 'none') => asked(measureOf(id), examined([], advised(months))).beside
    expect(beside(144)).toEqual(['Advised for later than ten years: met all the same.'])
    expect(beside(120)).toEqual([])
    expect(beside('none')).toEqual(['No further colonoscopy advised: not met.'])
  })
})

// US government measure 185, text of 2023, and the code of its exceptions as reproduced.
describe('three years since the last colonoscopy after an adenoma', () => {
  const id = 'surveillance-interval-after-adenoma-us-government-2023'
  const watched = { referralReason: 'surveillance', earlierAdenoma: true, monthsSinceLastColonoscopy: 36 } as const
  it.each<[string, Partial<Colonoscopy>, string]>([
    ['36 months', {}, 'met'],
    ['35.97 months', { monthsSinceLastColonoscopy: 35.97 }, 'not-met'],
    ['unknown', { monthsSinceLastColonoscopy: undefined }, 'not-recorded'],
    ['aged 17', { age: 17 }, 'out'],
    ['aged 18', { age: 18 }, 'met'],
    ['screening', { referralReason: 'screening' }, 'out'],
    ['surveillance without an earlier adenoma', { earlierAdenoma: false }, 'out'],
    ['surveillance of what is not told', { earlierAdenoma: undefined }, 'eligibility-not-recorded'],
    ['stopped', { completion: 'stopped' }, 'out'],
    [
      'a year, the last one incomplete',
      { monthsSinceLastColonoscopy: 12, lastExaminationInadequate: true },
      'excepted',
    ],
    ['36 months, the last one incomplete', { lastExaminationInadequate: true }, 'met'],
    ['a year, colitis', { monthsSinceLastColonoscopy: 12, inflammatoryBowelDisease: true }, 'excepted'],
    ['a year, a syndrome', { monthsSinceLastColonoscopy: 12, hereditarySyndrome: true }, 'excepted'],
    ['a year, serrated polyposis', { monthsSinceLastColonoscopy: 12, serratedPolyposis: true }, 'excepted'],
    ['a year, earlier cancer', { monthsSinceLastColonoscopy: 12, earlierColorectalCancer: true }, 'excepted'],
    ['a year, nothing else', { monthsSinceLastColonoscopy: 12, lastExaminationInadequate: false }, 'not-met'],
    ['a year, reason unknown', { monthsSinceLastColonoscopy: 12, lastExaminationInadequate: undefined }, 'not-met'],
  ])('%s: %o is %s', (_, more, answer) => {
    expect(code(id, examined([tubular(4)], { ...watched, ...more }))).toBe(answer)
  })
})

// US government measure 439, text of 2024: lower is better.
describe('screening at 86 or older', () => {
  const id = 'screening-at-86-or-older-us-government-2024'
  it.each<[Partial<Colonoscopy>, string]>([
    [{ age: 44 }, 'out'],
    [{ age: 45 }, 'not-met'],
    [{ age: 85 }, 'not-met'],
    [{ age: 86 }, 'met'],
    [{ age: 86, referralReason: 'surveillance' }, 'out'],
    [{ age: 86, referralReason: 'positive-screening-test' }, 'out'],
    [{ age: 86, referralReason: undefined }, 'eligibility-not-recorded'],
    [{ age: undefined }, 'eligibility-not-recorded'],
    [{ age: 86, completion: 'stopped' }, 'met'],
  ])('%o is %s', (more, answer) => {
    expect(code(id, examined([], more))).toBe(answer)
  })

  it('is better the lower it is', () => {
    expect(measureOf(id).definition.improvement).toBe('decrease')
  })
})
