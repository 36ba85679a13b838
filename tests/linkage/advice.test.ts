import { describe, expect, it } from 'vitest'
import { readAdvice } from '../../src/linkage/advice.ts'
import { amount, examination, fact, type Resource, type Said, snomed, word } from '../stories/examination.ts'
import { oneExamination } from './one-examination.ts'

// Observation.status and issued, ServiceRequest (intent, status, authoredOn, occurrence[x]) and Procedure.followUp: FHIR R4 (4.0.1).
// A year is 12 months: UCUM. Which advice stands is this service's own rule. The examination began at 09:00 on 2026-03-10.
const repeat = 'repeat-colonoscopy'
const nothing = { advice: undefined, advisedIntervalMonths: undefined }

const order = (more: Resource): Resource => ({
  resourceType: 'ServiceRequest',
  id: 'order',
  status: 'active',
  intent: 'order',
  code: snomed('73761001'),
  encounter: { reference: 'Encounter/encounter-a' },
  authoredOn: '2026-03-10T10:00:00Z',
  ...more,
})

function advised(said: Said[], facts: { orders?: Resource[]; procedure?: Resource; asOf?: string } = {}) {
  const { orders = [], procedure = {}, asOf } = facts
  const resources = examination({ id: 'a', said, procedure })
  const read = (list: readonly Resource[]) => {
    const one = oneExamination(list, undefined, asOf)
    return { ...one, facts: readAdvice(one.examination, orders, one.reading).facts }
  }
  const result = read(resources)
  // Whatever order they come in.
  expect(read([...resources].reverse()).facts).toEqual(result.facts)
  return result
}
const at = (issued: string, more: Resource = {}): Resource => ({ issued, ...more })
const unreadable = ({ trail }: ReturnType<typeof advised>) =>
  trail.unreadable.map(({ field, element }) => [field, element])

describe('advice', () => {
  it('and its interval may be one observation with a component', () => {
    const component = [{ code: fact('advised-interval'), valueQuantity: { value: 3, code: 'a' } }]
    expect(advised([word('advice', repeat, { component })]).facts).toEqual({
      advice: repeat,
      advisedIntervalMonths: 36,
    })
  })

  it('an interval alone means a repeat', () => {
    expect(advised([amount('advised-interval', 60, 'mo')]).facts).toEqual({ advice: repeat, advisedIntervalMonths: 60 })
  })

  it('of an interval of nothing is no interval, and listed', () => {
    for (const interval of [amount('advised-interval', 0, 'mo'), amount('advised-interval', 1, 'd')]) {
      const told = advised([interval])
      expect(told.facts).toEqual(nothing)
      expect(unreadable(told)).toEqual([['advisedIntervalMonths', 'Observation.valueQuantity']])
    }
  })

  it('that is not signed, or not known yet, is none', () => {
    expect(advised([word('advice', repeat, { status: 'preliminary' })]).facts).toEqual(nothing)
    const later = [amount('advised-interval', 36, 'mo', at('2026-03-20T10:00:00Z'))]
    expect(advised(later, { asOf: '2026-03-19' }).facts).toEqual(nothing)
    expect(advised(later, { asOf: '2026-03-20' }).facts.advisedIntervalMonths).toBe(36)
  })

  it('signed later stands, with its interval', () => {
    const said = [
      word('advice', repeat, at('2026-03-10T10:00:00Z')),
      amount('advised-interval', 60, 'mo', at('2026-03-10T10:00:00Z')),
      amount('advised-interval', 12, 'mo', at('2026-03-20', { status: 'amended' })),
    ]
    expect(advised(said).facts).toEqual({ advice: repeat, advisedIntervalMonths: 12 })
  })

  it('against a repeat, signed later, takes the interval with it', () => {
    const said = [
      amount('advised-interval', 60, 'mo', at('2026-03-10T10:00:00Z')),
      word('advice', 'no-further-colonoscopy', at('2026-03-20T10:00:00Z')),
    ]
    expect(advised(said).facts).toEqual({ ...nothing, advice: 'no-further-colonoscopy' })
  })

  it('against a repeat and with an interval to it contradicts itself: listed, nothing recorded', () => {
    const together = at('2026-03-10T10:00:00Z')
    const told = advised([
      word('advice', 'no-further-colonoscopy', together),
      amount('advised-interval', 60, 'mo', together),
    ])
    expect(told.facts).toEqual(nothing)
    expect(told.trail.contradictions.map(({ kind }) => kind)).toEqual([
      'advice against a further colonoscopy, and an interval to it',
    ])
  })

  it('of a review in clinic keeps the interval that goes with it', () => {
    const together = at('2026-03-10T10:00:00Z')
    const said = [word('advice', 'clinic-review', together), amount('advised-interval', 60, 'mo', together)]
    expect(advised(said).facts).toEqual({ advice: 'clinic-review', advisedIntervalMonths: 60 })
  })

  it('of two intervals of which neither is later is not recorded, and listed', () => {
    const told = advised([
      amount('advised-interval', 60, 'mo', at('2026-03-10')),
      amount('advised-interval', 36, 'mo', at('2026-03-10T12:00:00Z')),
    ])
    expect(told.facts).toEqual({ advice: repeat, advisedIntervalMonths: undefined })
    expect(told.trail.contradictions.map(({ kind }) => kind)).toEqual(['two different values of one measurement'])
  })

  it('three years and 36 months are one interval', () => {
    const said = [amount('advised-interval', 3, 'a'), amount('advised-interval', 36, 'mo')]
    expect(advised(said).facts.advisedIntervalMonths).toBe(36)
  })

  it('of a range is no interval, and an older interval does not take its place', () => {
    const valueRange = { low: { value: 3, code: 'a' }, high: { value: 5, code: 'a' } }
    const told = advised([
      amount('advised-interval', 12, 'mo', at('2026-03-10T10:00:00Z')),
      { code: fact('advised-interval'), valueRange, ...at('2026-03-20T10:00:00Z') },
    ])
    expect(told.facts.advisedIntervalMonths).toBeUndefined()
    expect(unreadable(told)).toEqual([['advisedIntervalMonths', 'Observation.valueRange']])
  })

  it('in words that nobody knows is not recorded, and listed for its site', () => {
    const valueCodeableConcept = { coding: [{ system: 'urn:oid:1.2.3', code: '9', display: 'See letter' }] }
    const told = advised([{ code: fact('advice'), valueCodeableConcept }])
    expect(told.facts).toEqual(nothing)
    expect([...told.survey.unmatched.values()].map(({ where, code }) => [where, code])).toEqual([
      ['Observation.valueCodeableConcept (advice)', '9'],
    ])
  })

  it('may be written in the procedure itself: codes count, texts are listed', () => {
    const followUp = [fact('clinic-review'), { text: 'Read the histology' }]
    const told = advised([], { procedure: { followUp } })
    expect(told.facts).toEqual({ ...nothing, advice: 'clinic-review' })
    expect([...told.survey.unmatched.values()].map(({ where, words }) => [where, words])).toEqual([
      ['Procedure.followUp', 'Read the histology'],
    ])
  })
})

describe('an order for another colonoscopy', () => {
  const planned = (date: string, more: Resource = {}) => order({ occurrenceDateTime: date, ...more })

  // Calendar months, and days over a mean month of 30.436875 days: 14 days are 0.46.
  it.each([
    ['2029-03-10', 36],
    ['2026-04-10', 1],
    ['2027-03-24', 12.5],
    ['2036-03-10', 120],
  ])('planned for %s is a repeat in %d months', (date, months) => {
    expect(advised([], { orders: [planned(date)] }).facts).toEqual({ advice: repeat, advisedIntervalMonths: months })
    const period = order({ occurrencePeriod: { start: date } })
    expect(advised([], { orders: [period] }).facts.advisedIntervalMonths).toBe(months)
  })

  it('without a date is a repeat, if it was made after this one began', () => {
    expect(advised([], { orders: [order({})] }).facts).toEqual({ ...nothing, advice: repeat })
    expect(advised([], { orders: [order({ authoredOn: '2026-03-10' })] }).facts).toEqual(nothing)
  })

  it.each<[string, Resource]>([
    ['made before the examination', { authoredOn: '2026-03-01' }],
    ['made in another encounter', { encounter: { reference: 'Encounter/other' } }],
    ['proposed only', { intent: 'proposal' }],
    ['revoked', { status: 'revoked' }],
    ['not to be done', { doNotPerform: true }],
    ['for something else', { code: snomed('76164006') }],
    ['for the day of the examination itself', { occurrenceDateTime: '2026-03-10' }],
    ['not known yet', { authoredOn: '2028-01-01' }],
  ])('%s is none', (_, more) => {
    expect(advised([], { orders: [planned('2029-03-10', more)] }).facts).toEqual(nothing)
  })

  it('on which the examination is based is none', () => {
    const procedure = { basedOn: [{ reference: 'ServiceRequest/order' }] }
    expect(advised([], { orders: [planned('2029-03-10')], procedure }).facts).toEqual(nothing)
  })

  it('gives way to an interval signed that day, and outdates one signed before', () => {
    const said = [amount('advised-interval', 60, 'mo', at('2026-03-10T09:40:00Z'))]
    const facts = (authoredOn: string) => advised(said, { orders: [planned('2029-03-10', { authoredOn })] }).facts
    expect(facts('2026-03-10T10:00:00Z').advisedIntervalMonths).toBe(60)
    expect(facts('2026-03-20T10:00:00Z').advisedIntervalMonths).toBe(36)
  })

  it.each(['2026-03-11', '2026-03-17'])('planned for %s, within a week, goes on with this one: no interval', (date) => {
    const told = advised([], { orders: [planned(date)] })
    expect(told.facts).toEqual({ ...nothing, advice: repeat })
    expect(unreadable(told)).toEqual([['advisedIntervalMonths', 'ServiceRequest.occurrenceDateTime']])
    // Nor does it stand in the way of one.
    const orders = [planned(date), planned('2029-03-10', { id: 'later' })]
    expect(advised([], { orders }).facts).toEqual({ advice: repeat, advisedIntervalMonths: 36 })
  })

  it('planned after a week is an interval: 8 days of a mean month are 0.3', () => {
    expect(advised([], { orders: [planned('2026-03-18')] }).facts.advisedIntervalMonths).toBe(0.3)
  })

  it.each(['2029-03', '2029'])('planned for %s cannot be read as an interval', (date) => {
    const told = advised([], { orders: [planned(date)] })
    expect(told.facts).toEqual({ ...nothing, advice: repeat })
    expect(unreadable(told)).toEqual([['advisedIntervalMonths', 'ServiceRequest.occurrenceDateTime']])
  })
})
