import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { measureOf } from '../measure-of.ts'
import { answerOn } from './asked.ts'
import { type Facts, followedBy, perforationMeasures } from './uneventful.ts'

// Windows of 7 days (Ontario, doi 10.1055/a-1381-7149) and 30 days (Florida, PMC4857725), read; the last day is within.
// A field that is absent is not recorded, so neither yes nor no.
const screening: Facts = { referralReason: 'screening' }
const asEligible = (id: string): Facts => (id.includes('screening-') && id.endsWith('us-2015') ? screening : {})

describe.each(perforationMeasures)('$id', ({ id, days }) => {
  it.each<[string, Facts, AnswerCode]>([
    ['none', {}, 'not-met'],
    ['on the day', { perforation: true, perforationDay: 0 }, 'met'],
    ['on the last day of the window', { perforation: true, perforationDay: days }, 'met'],
    ['a day after the window', { perforation: true, perforationDay: days + 1 }, 'not-met'],
    ['on a day that nobody recorded', { perforation: true }, 'not-recorded'],
    ['undecided, or from a source that does not say', { perforation: undefined }, 'not-recorded'],
    ['a bleeding, which is another event', { bleeding: true, bleedingDay: 0 }, 'not-met'],
    ['an injury of the mucosa, which is no event', { mucosalInjury: true }, 'not-met'],
  ])('perforation: %s', (_, facts, code) => {
    expect(answerOn(id, followedBy({ ...asEligible(id), ...facts })).code).toBe(code)
  })

  it('waits until the last day of the window has passed, and the lag after it', () => {
    const record = followedBy(asEligible(id))
    expect(answerOn(id, record, days).code).toBe('pending')
    expect(answerOn(id, record, days + 1).code).toBe('not-met')
    expect(answerOn(id, record, days + 14, 14).code).toBe('pending')
    expect(answerOn(id, record, days + 15, 14).code).toBe('not-met')
  })

  it('tells of an event at once, though its window is open', () => {
    const record = followedBy({ ...asEligible(id), perforation: true, perforationDay: 1 })
    expect(answerOn(id, record, 2)).toEqual({ code: 'pending', alreadyMet: true })
  })
})

describe.each([7, 30])('who is counted within %i days', (days) => {
  it.each<[string, Facts, AnswerCode]>([
    [`perforation-rate-${days}-day-descriptive`, { referralReason: undefined, polypRemoved: undefined }, 'not-met'],
    [`perforation-rate-${days}-day-us-2015`, { referralReason: undefined, polypRemoved: undefined }, 'not-met'],
    // The screening programme has a standard of its own; what was recalled of UK 2016 speaks of all.
    [`perforation-rate-${days}-day-uk-2016`, { referralReason: 'positive-screening-test' }, 'not-met'],
    [`perforation-rate-${days}-day-uk-screening-programme`, { referralReason: 'screening' }, 'out'],
    [`perforation-rate-${days}-day-uk-screening-programme`, { referralReason: 'symptoms-positive-test' }, 'out'],
    [`perforation-rate-${days}-day-uk-screening-programme`, { referralReason: undefined }, 'eligibility-not-recorded'],
    [`perforation-rate-screening-${days}-day-descriptive`, { referralReason: 'screening' }, 'not-met'],
    [`perforation-rate-screening-${days}-day-descriptive`, { referralReason: 'positive-screening-test' }, 'not-met'],
    [`perforation-rate-screening-${days}-day-descriptive`, { referralReason: 'surveillance' }, 'out'],
    [`perforation-rate-screening-${days}-day-us-2015`, { referralReason: 'screening' }, 'not-met'],
    [`perforation-rate-screening-${days}-day-us-2015`, { referralReason: 'positive-screening-test' }, 'out'],
    [`perforation-rate-screening-${days}-day-us-2015`, { referralReason: undefined }, 'eligibility-not-recorded'],
    [`perforation-rate-after-polypectomy-${days}-day-descriptive`, { polypRemoved: false }, 'out'],
    [
      `perforation-rate-after-polypectomy-${days}-day-descriptive`,
      { polypRemoved: undefined },
      'eligibility-not-recorded',
    ],
    [`perforation-rate-after-polypectomy-${days}-day-uk-2016`, { polypRemoved: false }, 'out'],
  ])('%s, %o: %s', (id, facts, code) => {
    expect(answerOn(id, followedBy(facts)).code).toBe(code)
  })
})

// Table 7 of gut.bmj.com/highwire/markup/183260 (read): fewer than 1 in 1,000. US 2015: 1 in 500, screening 1 in 1,000; UK 2016:
// 1 in 1,000 and 1 in 3,000, after polypectomy 1 in 500 and 1 in 1,500: all from memory.
it.each([
  ['uk-screening-programme', '', 1 / 1000, undefined, false],
  ['us-2015', '', 1 / 500, undefined, true],
  ['us-2015', 'screening-', 1 / 1000, undefined, true],
  ['uk-2016', '', 1 / 1000, 1 / 3000, true],
  ['uk-2016', 'after-polypectomy-', 1 / 500, 1 / 1500, true],
] as const)('the limit of %s, %s', (standard, who, limit, aspiration, fromMemory) => {
  for (const days of [7, 30]) {
    const { definition } = measureOf(`perforation-rate-${who}${days}-day-${standard}`)
    expect(definition.standard).toMatchObject({ minimum: limit, fromMemory })
    expect(definition.improvement).toBe('decrease')
    if (aspiration === undefined) expect(definition.standard?.aspirational).toBeUndefined()
    else expect(definition.standard?.aspirational).toBeCloseTo(aspiration, 6)
  }
})
