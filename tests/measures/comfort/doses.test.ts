import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'
import { resultOf, times } from '../therapy/result-of.ts'

// UK 2016, read: medians of at most 5 mg of midazolam, 100 µg of fentanyl and 50 mg of pethidine below 70; 2 mg, 50 µg and 25 mg
// from 70 on. Over those who were given the drug: from memory.
const drugs = [
  { drug: 'midazolam', field: 'midazolamMilligrams', unit: 'mg', under70: 5, from70: 2 },
  { drug: 'fentanyl', field: 'fentanylMicrograms', unit: 'ug', under70: 100, from70: 50 },
  { drug: 'pethidine', field: 'pethidineMilligrams', unit: 'mg', under70: 50, from70: 25 },
] as const

describe.each(drugs)('dose of $drug', ({ drug, field, unit, under70, from70 }) => {
  const given = (age: number | undefined, dose: number | undefined, more: Facts = {}): Facts => ({
    age,
    [field]: dose,
    anaesthetistLed: false,
    ...more,
  })
  const id = (who: 'given' | 'all', age: 'under-70' | '70-and-over') =>
    who === 'given' ? `median-${drug}-dose-${age}-uk-2016` : `median-${drug}-dose-all-patients-${age}-descriptive`

  it.each<[what: string, facts: Facts, young: AnswerCode, youngAll: AnswerCode, old: AnswerCode, oldAll: AnswerCode]>([
    ['69, given', given(69, 1), 'met', 'met', 'out', 'out'],
    ['70, given', given(70, 1), 'out', 'out', 'met', 'met'],
    ['69, none given', given(69, 0), 'out', 'met', 'out', 'out'],
    ['70, none given', given(70, 0), 'out', 'out', 'out', 'met'],
    ['69, a dose that cannot be read', given(69, undefined), 'eligibility-not-recorded', 'not-recorded', 'out', 'out'],
    [
      'no age',
      given(undefined, 1),
      'eligibility-not-recorded',
      'eligibility-not-recorded',
      'eligibility-not-recorded',
      'eligibility-not-recorded',
    ],
    ['no age, none given', given(undefined, 0), 'out', 'eligibility-not-recorded', 'out', 'eligibility-not-recorded'],
    ['69, led by an anaesthetist', given(69, 1, { anaesthetistLed: true }), 'excluded', 'excluded', 'out', 'out'],
    ['80, led by an anaesthetist', given(80, 1, { anaesthetistLed: true }), 'out', 'out', 'excluded', 'excluded'],
    ['69, who led not said', given(69, 1, { anaesthetistLed: undefined }), 'met', 'met', 'out', 'out'],
  ])('%s', (_, facts, young, youngAll, old, oldAll) => {
    expect(answerTo(id('given', 'under-70'), facts).code).toBe(young)
    expect(answerTo(id('all', 'under-70'), facts).code).toBe(youngAll)
    expect(answerTo(id('given', '70-and-over'), facts).code).toBe(old)
    expect(answerTo(id('all', '70-and-over'), facts).code).toBe(oldAll)
  })

  it('who led not said stays in, and is counted', () => {
    expect(answerTo(id('given', 'under-70'), given(69, 1, { anaesthetistLed: undefined }))).toEqual({
      code: 'met',
      value: 1,
      exclusionUnrecorded: true,
    })
  })

  it('the limits are those of the UK standard on either side of 70, and the siblings have none', () => {
    const limit = (of: string) => measureOf(of).definition.standard
    expect(limit(id('given', 'under-70'))).toMatchObject({ minimum: under70, fromMemory: false })
    expect(limit(id('given', '70-and-over'))).toMatchObject({ minimum: from70, fromMemory: false })
    for (const age of ['under-70', '70-and-over'] as const) {
      expect(measureOf(id('given', age)).definition).toMatchObject({
        improvement: 'decrease',
        scoreUnit: unit,
        aggregate: 'median',
      })
      expect(limit(id('all', age))).toBeUndefined()
      expect(measureOf(id('all', age)).definition.improvement).toBeUndefined()
    }
  })

  it('of four given 1, 2, 4 and 9 and five given none, the medians are 3 and 0', () => {
    const examinations = [...[1, 2, 4, 9].map((dose) => given(60, dose)), ...times(5, given(60, 0))]
    expect(resultOf(id('given', 'under-70'), examinations).score).toBe(3)
    expect(resultOf(id('all', 'under-70'), examinations).score).toBe(0)
    expect(resultOf(id('given', '70-and-over'), examinations).absentBecause).toBe('nobody-eligible')
  })
})

it('a median exactly at the limit is within it, in each age band', () => {
  const at = (age: number, ...doses: number[]) => doses.map((midazolamMilligrams) => ({ age, midazolamMilligrams }))
  const both = [...at(69, 4, 5, 6), ...at(70, 1, 2, 3)]
  for (const [age, median] of [
    ['under-70', 5],
    ['70-and-over', 2],
  ] as const) {
    const { definition } = measureOf(`median-midazolam-dose-${age}-uk-2016`)
    expect(resultOf(definition.id, both).score).toBe(median)
    expect(definition.standard?.minimum).toBe(median)
  }
})

// North-east England, 5,720 examinations: medians of 2.2 mg of midazolam, 29.4 mg of pethidine and 83.3 µg of fentanyl (abstract,
// read). Records made so that these are their medians.
it.each([
  ['midazolam', 'midazolamMilligrams', 2.2],
  ['pethidine', 'pethidineMilligrams', 29.4],
  ['fentanyl', 'fentanylMicrograms', 83.3],
] as const)('the median of %s in the north-east of England', (drug, field, median) => {
  const doses = [0.5, 0.8, 1, 1.5, 3].map((times) => times * median)
  const examinations = doses.flatMap((dose) => times(101, { age: 60, [field]: dose }))
  const { score, settled } = resultOf(`median-${drug}-dose-under-70-uk-2016`, [
    ...examinations,
    ...times(77, { age: 60, [field]: 0 }),
    ...times(50, { age: 75, [field]: 4 * median }),
  ])
  expect(score).toBe(median)
  expect(settled.met).toBe(505)
})

describe('dose of propofol', () => {
  const id = 'median-propofol-dose-descriptive'
  it.each<[string, Facts, AnswerCode]>([
    ['given', { propofolMilligrams: 80 }, 'met'],
    ['given at 85', { propofolMilligrams: 80, age: 85 }, 'met'],
    ['given by an anaesthetist', { propofolMilligrams: 80, anaesthetistLed: true }, 'met'],
    ['none given', { propofolMilligrams: 0 }, 'out'],
    ['not recorded', { propofolMilligrams: undefined }, 'eligibility-not-recorded'],
  ])('%s', (_, facts, code) => {
    expect(answerTo(id, facts).code).toBe(code)
  })

  it('has no standard, and counts beside those led by an anaesthetist', () => {
    expect(measureOf(id).definition.standard).toBeUndefined()
    expect(answerTo(id, { propofolMilligrams: 80, anaesthetistLed: true }).besides).toEqual([0])
  })
})
