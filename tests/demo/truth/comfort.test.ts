import { expect, it } from 'vitest'
import { truthAnswer } from '../../../src/local/demo/truth.ts'
import type { TruthRow } from '../../../src/local/demo/truth-row.ts'
import { plain } from '../plain-row.ts'

// Expected from the definitions of the measures.
type Line = readonly [string, Partial<TruthRow>, readonly string[]]
const told = (measure: string, facts: Partial<TruthRow>) => truthAnswer(measure, { ...plain, ...facts })
const answers = (measures: readonly string[], facts: Partial<TruthRow>) => measures.map((id) => told(id, facts).answer)

const fromZero = { procedure: 'Procedure/tar-00001' }

it.each<Line>([
  ['3 of 5', { comfort: 3 }, ['notMet', 'notMet', 'out']],
  ['4 of 5', { comfort: 4 }, ['met', 'met', 'out']],
  ['4 of 5, asleep', { comfort: 4, anaesthetistLed: true }, ['met', 'excluded', 'out']],
  ['2 of 4', { ...fromZero, comfort: 2 }, ['notMet', 'notMet', 'notMet']],
  ['3 of 4', { ...fromZero, comfort: 3 }, ['met', 'met', 'met']],
  ['no score', { ...fromZero }, ['notRecorded', 'notRecorded', 'eligibilityNotRecorded']],
])('discomfort: %s', (_, facts, expected) => {
  const ids = [
    'moderate-or-severe-discomfort-rate-uk-2016',
    'moderate-or-severe-discomfort-rate-without-anaesthetist-descriptive',
  ]
  expect(answers([...ids, 'discomfort-rate-zero-to-four-scale-descriptive'], facts)).toEqual(expected)
})

it('the patient called it good, acceptable, or nothing', () => {
  const answer = (facts: Partial<TruthRow>) => told('good-patient-experience-rate-descriptive', facts).answer
  expect(answer({ patientExperience: 'good' })).toBe('met')
  expect(answer({ patientExperience: 'acceptable' })).toBe('notMet')
  expect(answer({})).toBe('notRecorded')
})

it.each([
  ['midazolam', 'midazolamMilligrams'],
  ['fentanyl', 'fentanylMicrograms'],
  ['pethidine', 'pethidineMilligrams'],
] as const)('doses of %s: below 70 and from 70 on; where any was given, and with none as 0', (drug, field) => {
  const ids = [
    'under-70-uk-2016',
    '70-and-over-uk-2016',
    'all-patients-under-70-descriptive',
    'all-patients-70-and-over-descriptive',
  ]
  const values = (age: number, dose: number | undefined, more: Partial<TruthRow> = {}) =>
    ids.map((id) => {
      const { answer, value } = told(`median-${drug}-dose-${id}`, { age, [field]: dose, ...more })
      return value ?? answer
    })
  expect(values(69, 2)).toEqual([2, 'out', 2, 'out'])
  expect(values(70, 2)).toEqual(['out', 2, 'out', 2])
  expect(values(69, 0)).toEqual(['out', 'out', 0, 'out'])
  expect(values(69, undefined)).toEqual(['eligibilityNotRecorded', 'out', 'notRecorded', 'out'])
  expect(values(70, 2, { anaesthetistLed: true })).toEqual(['out', 'excluded', 'out', 'excluded'])
})

it('doses of propofol are told where any was given, whoever led', () => {
  const dose = (propofolMilligrams: number) =>
    told('median-propofol-dose-descriptive', { propofolMilligrams, anaesthetistLed: true })
  expect([dose(0), dose(120)]).toEqual([{ answer: 'out' }, { answer: 'met', value: 120 }])
})

it.each<Line>([
  ['none given', { sedated: false, reversalAgent: false }, ['met', 'out', 'out']],
  ['sedated', { sedated: true, reversalAgent: false }, ['notMet', 'notMet', 'notMet']],
  ['reversed', { sedated: true, reversalAgent: true, reason: 'surveillance' }, ['notMet', 'met', 'met']],
  ['reversed, for symptoms', { sedated: true, reversalAgent: true, reason: 'symptoms' }, ['notMet', 'met', 'out']],
  ['drugs not all known', { sedated: true }, ['notMet', 'notRecorded', 'notRecorded']],
  ['nothing known', {}, ['notRecorded', 'eligibilityNotRecorded', 'eligibilityNotRecorded']],
])('sedation: %s', (_, facts, expected) => {
  const ids = ['unsedated-share-descriptive', 'reversal-agent-rate-descriptive', 'reversal-agent-rate-review-2014']
  expect(answers(ids, facts)).toEqual(expected)
})

it.each<readonly [string, Partial<TruthRow>, string]>([
  ['2 mg and 3 of 5', { midazolamMilligrams: 2, comfort: 3 }, 'met'],
  ['2.5 mg', { midazolamMilligrams: 2.5, comfort: 1 }, 'notMet'],
  ['4 of 5', { midazolamMilligrams: 0, comfort: 4 }, 'notMet'],
  ['2 of 4', { ...fromZero, midazolamMilligrams: 0, comfort: 2 }, 'met'],
  ['3 of 4', { ...fromZero, midazolamMilligrams: 0, comfort: 3 }, 'notMet'],
  ['no score', { midazolamMilligrams: 2 }, 'notRecorded'],
  ['no score, and too much', { midazolamMilligrams: 3 }, 'notMet'],
  [
    'turned at the sigmoid',
    { midazolamMilligrams: 0, comfort: 1, stopped: true, extent: 'sigmoid', photographs: [] },
    'notMet',
  ],
  ['by an anaesthetist', { midazolamMilligrams: 0, comfort: 1, anaesthetistLed: true }, 'excluded'],
  ['limited', { midazolamMilligrams: 0, comfort: 1, intent: 'limited' }, 'out'],
])('caecum in comfort with little midazolam: %s', (_, facts, expected) => {
  expect(told('intubation-composite-descriptive', facts).answer).toBe(expected)
})
