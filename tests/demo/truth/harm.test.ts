import { describe, expect, it } from 'vitest'
import { harmTruth } from '../../../src/local/demo/truth/harm.ts'
import { truthAnswer, truthPersons } from '../../../src/local/demo/truth.ts'
import type { TruthRow } from '../../../src/local/demo/truth-row.ts'
import { plain } from '../plain-row.ts'

// Expected from the definitions: the last day of a window counts, the day after it does not.
type Line = readonly [string, Partial<TruthRow>, string]

const removal: Partial<TruthRow> = { polyps: [{ site: 'sigmoid', handling: 'removed', nature: 'hyperplastic' }] }
const test: Partial<TruthRow> = { reason: 'positive-screening-test' }
const symptoms: Partial<TruthRow> = { reason: 'symptoms' }
const answer = (measure: string, facts: Partial<TruthRow>) => truthAnswer(measure, { ...plain, ...facts }).answer
const ids = Object.keys(harmTruth)
const perforationOf = (window: number) =>
  ids.filter((id) => id.startsWith('perforation') && id.includes(`-${window}-day`))
const bleedingOf = (window: number) => ids.filter((id) => id.includes('bleeding') && id.includes(`-${window}-day`))

describe.each([7, 30])('perforation within %i days', (window) => {
  it.each(perforationOf(window))('%s', (id) => {
    // Whoever comes for a screening test, or after one, and has a polyp removed is in one of the populations at least.
    const reason = id.includes('programme') ? test : {}
    const facts = (day?: number) => ({ ...removal, ...reason, ...(day !== undefined && { perforationDay: day }) })
    expect([0, window, window + 1, undefined].map((day) => answer(id, facts(day)))).toEqual([
      'met',
      'met',
      'notMet',
      'notMet',
    ])
  })
})

describe.each([7, 14, 30])('bleeding within %i days', (window) => {
  it.each(bleedingOf(window))('%s', (id) => {
    const facts = (day?: number): Partial<TruthRow> => ({
      ...removal,
      ...(id.includes('programme') ? test : {}),
      ...(day !== undefined && { bleedingDay: day, bleedingSeverity: 'moderate' }),
    })
    expect([0, window, window + 1, undefined].map((day) => answer(id, facts(day)))).toEqual([
      'met',
      'met',
      'notMet',
      'notMet',
    ])
    const [mild, ungraded] = id.includes('worse') ? ['notMet', 'notRecorded'] : ['met', 'met']
    expect(answer(id, { ...facts(window), bleedingSeverity: 'mild' })).toBe(mild)
    expect(answer(id, { ...facts(window), bleedingSeverity: undefined })).toBe(ungraded)
    expect(answer(id, { ...facts(window + 1), bleedingSeverity: undefined })).toBe('notMet')
    expect(answer(id, { ...facts(0), polyps: [] })).toBe('out')
  })
})

it.each([
  ['perforation-rate-30-day-us-2015', 'notMet', 'notMet', 'notMet'],
  ['perforation-rate-screening-30-day-descriptive', 'notMet', 'notMet', 'out'],
  ['perforation-rate-screening-30-day-us-2015', 'notMet', 'out', 'out'],
  ['perforation-rate-30-day-uk-screening-programme', 'out', 'notMet', 'out'],
])('%s looks at screening, at a positive test, and at symptoms, each in its own way', (id, screening, after, other) => {
  expect([{}, test, symptoms].map((facts) => answer(id, facts))).toEqual([screening, after, other])
})

it.each<Line>([
  ['a visit of day 7 that nobody planned', { visits: [{ day: 7, planned: false }] }, 'met'],
  ['one of day 8', { visits: [{ day: 8, planned: false }] }, 'notMet'],
  ['one that was planned', { visits: [{ day: 3, planned: true }] }, 'notMet'],
  ['one of which nobody says', { visits: [{ day: 3 }] }, 'notRecorded'],
  ['one of which nobody says, on day 8', { visits: [{ day: 8 }] }, 'notMet'],
  ['one of which nobody says, and one unplanned', { visits: [{ day: 3 }, { day: 4, planned: false }] }, 'met'],
  ['none', { visits: [] }, 'notMet'],
  ['none that is known', { visits: undefined }, 'notRecorded'],
  ['an inpatient', { setting: 'inpatient', visits: [{ day: 2, planned: false }] }, 'out'],
])('unplanned visits: %s', (_, facts, expected) => {
  expect(answer('unplanned-hospital-visit-rate-7-day-descriptive', facts)).toBe(expected)
})

it.each<readonly [string, Partial<TruthRow>, string, string]>([
  ['a death on day 30', { death: true, deathDay: 30 }, 'met', 'out'],
  ['on day 31', { death: true, deathDay: 31 }, 'out', 'out'],
  ['without a date', { death: true }, 'eligibilityNotRecorded', 'out'],
  ['none', { death: false }, 'out', 'out'],
  ['of an inpatient', { setting: 'inpatient', death: true, deathDay: 2 }, 'out', 'met'],
  ['of an emergency', { setting: 'emergency', death: true, deathDay: 2 }, 'out', 'met'],
])('deaths: %s', (_, facts, elective, emergency) => {
  expect(answer('death-within-30-days-elective-descriptive', facts)).toBe(elective)
  expect(answer('death-within-30-days-emergency-descriptive', facts)).toBe(emergency)
})

it.each<readonly [string, Partial<TruthRow>, string, string]>([
  [
    'an event by the day after',
    { sedated: true, cardiopulmonaryEvent: true, cardiopulmonaryEventDay: 1 },
    'met',
    'met',
  ],
  ['on day 2', { sedated: true, cardiopulmonaryEvent: true, cardiopulmonaryEventDay: 2 }, 'notMet', 'notMet'],
  ['on an unknown day', { sedated: true, cardiopulmonaryEvent: true }, 'notRecorded', 'notRecorded'],
  ['none', { sedated: false, cardiopulmonaryEvent: false }, 'notMet', 'out'],
  ['sedation not told', { cardiopulmonaryEvent: false }, 'notMet', 'eligibilityNotRecorded'],
])('heart and lungs: %s', (_, facts, all, sedated) => {
  expect(answer('cardiopulmonary-event-rate-1-day-descriptive', facts)).toBe(all)
  expect(answer('cardiopulmonary-event-rate-sedated-1-day-descriptive', facts)).toBe(sedated)
})

it('an injury of which nothing is said is not recorded', () => {
  const told = [true, false, undefined].map((mucosalInjury) =>
    answer('mucosal-injury-rate-descriptive', { mucosalInjury }),
  )
  expect(told).toEqual(['met', 'notMet', 'notRecorded'])
})

it('visits and deaths count for nobody but the unit', () => {
  const ofNobody = ids.filter((id) => truthPersons(id, plain).length === 0)
  expect(ofNobody.sort()).toEqual([
    'death-within-30-days-elective-descriptive',
    'death-within-30-days-emergency-descriptive',
    'unplanned-hospital-visit-rate-7-day-descriptive',
  ])
})
