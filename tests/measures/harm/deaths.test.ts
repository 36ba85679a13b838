import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { measureOf } from '../measure-of.ts'
import { answerOn, besideOn, reportOn } from './asked.ts'
import { type Facts, followedBy } from './uneventful.ts'

// 30 days, all causes: from memory. To be counted and reviewed by the unit, never by endoscopist: a choice of this project.
const elective = 'death-within-30-days-elective-descriptive'
const emergency = 'death-within-30-days-emergency-descriptive'
const died = (deathDay: number | undefined, setting: Facts['setting'] = 'outpatient'): Facts => ({
  death: true,
  deathDay,
  setting,
})

it.each<[string, Facts, AnswerCode, AnswerCode]>([
  ['alive, an outpatient', {}, 'out', 'out'],
  ['died on day 30, an outpatient', died(30), 'met', 'out'],
  ['died on the day, an outpatient', died(0), 'met', 'out'],
  ['died on day 31', died(31), 'out', 'out'],
  ['died in an emergency', died(3, 'emergency'), 'out', 'met'],
  ['died, an inpatient', died(3, 'inpatient'), 'out', 'met'],
  ['alive, an inpatient', { setting: 'inpatient' }, 'out', 'out'],
  ['died on a day that nobody recorded', died(undefined), 'eligibility-not-recorded', 'out'],
  ['nothing known of a death', { death: undefined }, 'eligibility-not-recorded', 'out'],
  [
    'died, and no setting recorded',
    { ...died(3), setting: undefined },
    'eligibility-not-recorded',
    'eligibility-not-recorded',
  ],
  ['alive, and no setting recorded', { setting: undefined }, 'out', 'out'],
])('%s', (_, facts, ofElective, ofEmergency) => {
  expect(answerOn(elective, followedBy(facts)).code).toBe(ofElective)
  expect(answerOn(emergency, followedBy(facts)).code).toBe(ofEmergency)
})

describe.each([
  [elective, 'outpatient'],
  [emergency, 'emergency'],
] as const)('%s', (id, setting) => {
  it('lists a death at once, though the window is open', () => {
    expect(answerOn(id, followedBy(died(3, setting)), 4)).toEqual({ code: 'pending', alreadyMet: true })
    expect(answerOn(id, followedBy(died(3, setting)), 30).code).toBe('pending')
    expect(answerOn(id, followedBy(died(3, setting)), 31).code).toBe('met')
  })

  it('is a list to review, with no score, no standard and no row of a person', () => {
    const { definition } = measureOf(id)
    expect(definition).toMatchObject({
      scoring: 'cohort',
      attribution: 'unit-only',
      reviewList: true,
      eventWindowDays: 30,
    })
    expect(definition.standard).toBeUndefined()
    expect(definition.improvement).toBeUndefined()
    expect(definition.stratifiers.flatMap(({ dimensions }) => dimensions)).not.toContain('practitioner')
    const { whole, practitioners, divisions, cases } = reportOn(id, [
      [3, followedBy(died(3, setting))],
      [97, followedBy({ setting })],
    ])
    expect(whole).toMatchObject({ absentBecause: 'no-score', apart: { out: 97 } })
    expect(whole.settled.initialPopulation).toBe(3)
    expect([whole.score, whole.interval, whole.bounds, whole.wholePeriodBounds]).toEqual(Array(4).fill(undefined))
    expect(practitioners).toEqual([])
    expect(divisions.flatMap(({ stratifier }) => stratifier.dimensions)).not.toContain('practitioner')
    expect(cases).toEqual(['northmoor/Procedure/1', 'northmoor/Procedure/2', 'northmoor/Procedure/3'])
  })

  it('is not available where deaths are not fed: nobody recorded as dead is not nobody dead', () => {
    const { whole, cases } = reportOn(id, [[5, followedBy({ setting, death: undefined })]], {
      completeFeeds: ['polyps'],
    })
    expect(whole.apart).toMatchObject({ 'not-available': 5 })
    expect(whole.settled.initialPopulation).toBe(0)
    expect(cases).toEqual([])
  })

  it('counts beside who died early, and who had an event', () => {
    const early = 'Of them on the day of the examination or the day after'
    const withEvent = 'Of them with a perforation, bleeding or cardiopulmonary event recorded'
    expect(besideOn(id, followedBy(died(1, setting)))).toEqual([early])
    expect(besideOn(id, followedBy(died(2, setting)))).toEqual([])
    expect(besideOn(id, followedBy({ ...died(2, setting), bleeding: true }))).toEqual([withEvent])
  })
})

it('counts inpatients among the emergencies beside', () => {
  expect(besideOn(emergency, followedBy(died(5, 'inpatient')))).toEqual(['Of them inpatients'])
  expect(besideOn(emergency, followedBy(died(5, 'emergency')))).toEqual([])
})
