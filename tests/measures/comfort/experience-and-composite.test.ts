import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'
import { resultOf, times } from '../therapy/result-of.ts'

// Our own definition: three words for what the patient said.
describe('experience of the patient', () => {
  const id = 'good-patient-experience-rate-descriptive'
  it.each<[string, Facts, AnswerCode]>([
    ['good', { patientExperience: 'good' }, 'met'],
    ['acceptable', { patientExperience: 'acceptable' }, 'not-met'],
    ['poor', { patientExperience: 'poor' }, 'not-met'],
    ['nobody asked', { patientExperience: undefined, comfortScore: 1, comfortScorer: 'nurse' }, 'not-recorded'],
  ])('%s', (_, facts, code) => {
    expect(answerTo(id, facts).code).toBe(code)
  })

  it('counts beside acceptable and poor, and has no standard', () => {
    expect(answerTo(id, { patientExperience: 'acceptable' }).besides).toEqual([0])
    expect(answerTo(id, { patientExperience: 'poor' }).besides).toEqual([1])
    expect(measureOf(id).definition.standard).toBeUndefined()
  })
})

// Caecum reached, midazolam of 2 mg or less, comfort of 1 to 3 of 5: doi 10.1055/s-0043-115897 (abstract, read).
describe('intubation composite', () => {
  const id = 'intubation-composite-descriptive'
  const whole: Facts = {
    caecumReached: true,
    midazolamMilligrams: 2,
    comfortOneToFive: 3,
    comfortScorer: 'patient',
    propofolMilligrams: 0,
    anaesthetistLed: false,
  }
  it.each<[string, Facts, AnswerCode]>([
    ['all three at their limits', {}, 'met'],
    ['no midazolam', { midazolamMilligrams: 0 }, 'met'],
    ['2.001 mg', { midazolamMilligrams: 2.001 }, 'not-met'],
    ['comfort 4', { comfortOneToFive: 4 }, 'not-met'],
    ['caecum not reached', { caecumReached: false }, 'not-met'],
    ['without a photograph', { completionPhotographed: false }, 'met'],
    ['no score', { comfortOneToFive: undefined }, 'not-recorded'],
    ['no dose', { midazolamMilligrams: undefined }, 'not-recorded'],
    ['nobody says how far', { caecumReached: undefined }, 'not-recorded'],
    ['no score, but 5 mg', { comfortOneToFive: undefined, midazolamMilligrams: 5 }, 'not-met'],
    ['no dose, but not reached', { midazolamMilligrams: undefined, caecumReached: false }, 'not-met'],
    ['a limited examination', { intent: 'limited' }, 'out'],
    ['an intent that cannot be read', { intent: undefined }, 'eligibility-not-recorded'],
    ['led by an anaesthetist', { anaesthetistLed: true, midazolamMilligrams: 0 }, 'excluded'],
    ['who led not said', { anaesthetistLed: undefined }, 'met'],
  ])('%s', (_, facts, code) => {
    expect(answerTo(id, { ...whole, ...facts }).code).toBe(code)
  })

  it('counts beside propofol, and scores of the nurse', () => {
    expect(answerTo(id, { ...whole, propofolMilligrams: 60 }).besides).toEqual([0])
    expect(answerTo(id, { ...whole, comfortScorer: 'nurse' }).besides).toEqual([1])
  })

  it('the 20,085 examinations of the UK national audit of 2011: 54.1 %', () => {
    // The share is printed, not the count: 10,866 of 20,085 are 54.10 %.
    const { score, settled } = resultOf(id, [
      ...times(10_866, whole),
      ...times(3_000, { ...whole, comfortOneToFive: 4 }),
      ...times(6_219, { ...whole, midazolamMilligrams: 2.5 }),
    ])
    expect(settled.denominator).toBe(20_085)
    expect(score).toBeCloseTo(0.541, 4)
    expect(measureOf(id).definition.standard).toBeUndefined()
  })
})
