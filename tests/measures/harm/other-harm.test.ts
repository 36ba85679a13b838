import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerOn, besideOn } from './asked.ts'
import { type Facts, followedBy } from './uneventful.ts'

type Line = [what: string, facts: Facts, code: AnswerCode]

// During the examination and up to a day after: from memory.
const cardiopulmonary = 'cardiopulmonary-event-rate-1-day-descriptive'
const amongSedated = 'cardiopulmonary-event-rate-sedated-1-day-descriptive'
const arrested = (day?: number): Facts => ({ cardiopulmonaryEvent: true, cardiopulmonaryEventDay: day })

describe.each([cardiopulmonary, amongSedated])('%s', (id) => {
  it.each<Line>([
    ['none', {}, 'not-met'],
    ['during it', arrested(0), 'met'],
    ['the day after', arrested(1), 'met'],
    ['two days after', arrested(2), 'not-met'],
    ['on a day that nobody recorded', arrested(), 'not-recorded'],
    ['undecided', { cardiopulmonaryEvent: undefined }, 'not-recorded'],
    ['a perforation, which is another event', { perforation: true, perforationDay: 0 }, 'not-met'],
  ])('%s', (_, facts, code) => {
    expect(answerOn(id, followedBy(facts)).code).toBe(code)
  })

  it('is settled two days later', () => {
    expect(answerOn(id, followedBy({}), 1).code).toBe('pending')
    expect(answerOn(id, followedBy({}), 2).code).toBe('not-met')
  })

  it('counts beside who was given a reversal agent, and who was in an anaesthetist’s care', () => {
    expect(besideOn(id, followedBy({ ...arrested(0), reversalAgent: true }))).toEqual([
      'Of them with a reversal agent given',
    ])
    expect(besideOn(id, followedBy({ ...arrested(0), anaesthetistLed: true }))).toEqual([
      'Of them in an anaesthetist’s care',
    ])
    expect(besideOn(id, followedBy({ reversalAgent: true }))).toEqual([])
  })
})

it('looks at everybody, or at the sedated alone', () => {
  for (const sedated of [true, false, undefined])
    expect(answerOn(cardiopulmonary, followedBy({ sedated })).code).toBe('not-met')
  expect(answerOn(amongSedated, followedBy({ sedated: false })).code).toBe('out')
  expect(answerOn(amongSedated, followedBy({ sedated: undefined })).code).toBe('eligibility-not-recorded')
})

// Any unplanned visit within 7 days, any cause: CBE 2539, read. Visits are recorded to day 30.
describe('unplanned-hospital-visit-rate-7-day-descriptive', () => {
  const id = 'unplanned-hospital-visit-rate-7-day-descriptive'
  type Came = readonly [day: number | undefined, planned: boolean | undefined]
  const visited = (...came: Came[]): Facts => ({
    hospitalVisitCount: came.length,
    visits: came.map(([day, planned]) => ({ day, planned })),
    unplannedVisit: undefined,
    unplannedVisitDay: undefined,
  })

  it.each<Line>([
    ['none', {}, 'not-met'],
    ['unplanned on the day', visited([0, false]), 'met'],
    ['unplanned on day 7', visited([7, false]), 'met'],
    ['unplanned on day 8', visited([8, false]), 'not-met'],
    ['planned on day 3', visited([3, true]), 'not-met'],
    ['planned on day 3, unplanned on day 5', visited([3, true], [5, false]), 'met'],
    ['unplanned on day 5 beside one of which nobody says', visited([2, undefined], [5, false]), 'met'],
    ['on day 3, and nobody says whether it was planned', visited([3, undefined]), 'not-recorded'],
    ['on day 20, and nobody says whether it was planned', visited([20, undefined]), 'not-met'],
    ['unplanned, on a day that nobody recorded', visited([undefined, false]), 'not-recorded'],
    ['planned, on a day that nobody recorded', visited([undefined, true]), 'not-met'],
    ['visits that are not recorded', { hospitalVisitCount: undefined, visits: undefined }, 'not-recorded'],
    ['a number without the list', { hospitalVisitCount: 1, visits: undefined }, 'not-recorded'],
    ['an inpatient', { ...visited([1, false]), setting: 'inpatient' }, 'out'],
    ['an emergency', { ...visited([1, false]), setting: 'emergency' }, 'out'],
    ['a setting that nobody recorded', { ...visited([1, false]), setting: undefined }, 'eligibility-not-recorded'],
  ])('%s', (_, facts, code) => {
    expect(answerOn(id, followedBy(facts)).code).toBe(code)
  })

  it('waits until day 7 has passed', () => {
    expect(answerOn(id, followedBy({}), 7).code).toBe('pending')
    expect(answerOn(id, followedBy({}), 8).code).toBe('not-met')
    expect(answerOn(id, followedBy(visited([1, false])), 2)).toEqual({ code: 'pending', alreadyMet: true })
  })

  it('counts beside those with an event within the same days', () => {
    const beside = ['Of them with a perforation or bleeding recorded within 7 days']
    expect(besideOn(id, followedBy({ ...visited([2, false]), bleeding: true, bleedingDay: 2 }))).toEqual(beside)
    expect(besideOn(id, followedBy({ ...visited([2, false]), perforation: true, perforationDay: 7 }))).toEqual(beside)
    expect(besideOn(id, followedBy({ ...visited([2, false]), bleeding: true, bleedingDay: 8 }))).toEqual([])
    expect(besideOn(id, followedBy(visited([2, false])))).toEqual([])
  })
})

// An incident without consequence is no adverse event: Cotton 2010 and AGREE 2022, read.
describe('mucosal-injury-rate-descriptive', () => {
  const id = 'mucosal-injury-rate-descriptive'

  it.each<Line>([
    ['none', {}, 'not-met'],
    ['seen', { mucosalInjury: true }, 'met'],
    ['nothing said of it', { mucosalInjury: undefined }, 'not-recorded'],
    [
      'treated, with nothing said of an injury',
      { mucosalInjury: undefined, mucosalInjuryTreated: true },
      'not-recorded',
    ],
    ['a perforation alone', { perforation: true, perforationDay: 0 }, 'not-met'],
  ])('%s', (_, facts, code) => {
    expect(answerOn(id, followedBy(facts)).code).toBe(code)
  })

  it('is known on the day itself', () => {
    expect(answerOn(id, followedBy({ mucosalInjury: true }), 0).code).toBe('met')
  })

  it('counts beside what was treated, and what needed no treatment; silence is neither', () => {
    expect(besideOn(id, followedBy({ mucosalInjury: true, mucosalInjuryTreated: true }))).toEqual(['Of them treated'])
    expect(besideOn(id, followedBy({ mucosalInjury: true, mucosalInjuryTreated: false }))).toEqual([
      'Of them said to have needed no treatment',
    ])
    expect(besideOn(id, followedBy({ mucosalInjury: true }))).toEqual([])
  })
})
