import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'

const notReached: Facts = { caecumReached: false, completion: 'stopped', insertionMinutes: undefined }

// Our own definition: from first insertion, among those that got there; and of all, those that did not get there not met.
describe('insertion', () => {
  it.each<[what: string, facts: Facts, time: AnswerCode, within10: AnswerCode, within15: AnswerCode]>([
    ['8 minutes', {}, 'met', 'met', 'met'],
    ['exactly 10', { insertionMinutes: 10 }, 'met', 'met', 'met'],
    ['just over 10', { insertionMinutes: 10.001 }, 'met', 'not-met', 'met'],
    ['exactly 15', { insertionMinutes: 15 }, 'met', 'not-met', 'met'],
    ['16 minutes', { insertionMinutes: 16 }, 'met', 'not-met', 'not-met'],
    ['no time', { insertionMinutes: undefined }, 'not-recorded', 'not-recorded', 'not-recorded'],
    ['not reached', notReached, 'out', 'not-met', 'not-met'],
    ['not reached, though a time is written', { ...notReached, insertionMinutes: 5 }, 'out', 'not-met', 'not-met'],
    ['nobody says how far', { caecumReached: undefined }, 'eligibility-not-recorded', 'not-recorded', 'not-recorded'],
    [
      'nobody says how far, and 20 minutes',
      { caecumReached: undefined, insertionMinutes: 20 },
      'eligibility-not-recorded',
      'not-met',
      'not-met',
    ],
    ['limited', { intent: 'limited' }, 'out', 'out', 'out'],
    [
      'an intent that cannot be read',
      { intent: undefined },
      'eligibility-not-recorded',
      'eligibility-not-recorded',
      'eligibility-not-recorded',
    ],
  ])('%s', (_, facts, time, within10, within15) => {
    expect(answerTo('insertion-time-descriptive', facts).code).toBe(time)
    expect(answerTo('caecum-reached-within-10-minutes-descriptive', facts).code).toBe(within10)
    expect(answerTo('caecum-reached-within-15-minutes-descriptive', facts).code).toBe(within15)
  })

  it('is a median of minutes without a standard or a better direction', () => {
    expect(answerTo('insertion-time-descriptive', { insertionMinutes: 22 }).value).toBe(22)
    const { aggregate, scoreUnit, standard, improvement } = measureOf('insertion-time-descriptive').definition
    expect({ aggregate, scoreUnit, standard, improvement }).toEqual({ aggregate: 'median', scoreUnit: 'min' })
  })

  it('counts beside earlier resections and insertions beyond 20 minutes, and those not reached at all', () => {
    expect(answerTo('insertion-time-descriptive', { earlierResection: true, insertionMinutes: 20 }).besides).toEqual([
      0,
    ])
    expect(answerTo('insertion-time-descriptive', { insertionMinutes: 20.5 }).besides).toEqual([1])
    expect(answerTo('caecum-reached-within-10-minutes-descriptive', notReached).besides).toEqual([0])
  })
})

// Mean minutes in negative, complete examinations: UK 2016 and the UK screening programme 6 to 10, AGA 2021 6 to 9, US 2024 8 from
// the age of 45 (read); EU 2017 6 to 10 and US 2015 6 (from memory).
describe('withdrawal', () => {
  const ids = {
    uk: 'withdrawal-time-uk-2016',
    programme: 'withdrawal-time-uk-screening-programme',
    eu: 'withdrawal-time-eu-2017',
    aga: 'withdrawal-time-aga-2021',
    us2015: 'withdrawal-time-us-2015',
    kept: 'withdrawal-time-resections-kept-us-2024',
    noLesion: 'withdrawal-time-no-lesion-seen-us-2024',
  } as const
  type Name = keyof typeof ids
  const inside: Record<Name, Facts> = {
    uk: {},
    programme: { referralReason: 'positive-screening-test' },
    eu: {},
    aga: {},
    us2015: {},
    kept: {},
    noLesion: {},
  }
  const names = Object.keys(ids) as Name[]

  it.each<[what: string, facts: Facts, answer: AnswerCode]>([
    ['nothing taken', {}, 'met'],
    ['no time', { withdrawalMinutes: undefined }, 'not-recorded'],
    ['something taken', { tissueTakenOrTreated: true }, 'out'],
    ['not recorded whether anything was taken', { tissueTakenOrTreated: undefined }, 'eligibility-not-recorded'],
    ['caecum not reached', { caecumReached: false }, 'out'],
    ['nobody says how far', { caecumReached: undefined }, 'eligibility-not-recorded'],
  ])('%s', (_, facts, answer) => {
    for (const name of names)
      expect([name, answerTo(ids[name], { ...inside[name], ...facts }).code]).toEqual([name, answer])
  })

  it.each<[name: Name, what: string, facts: Facts, answer: AnswerCode]>([
    ['uk', 'symptoms', { referralReason: 'symptoms', age: 19 }, 'met'],
    ['uk', 'an earlier resection', { earlierResection: true }, 'met'],
    ['programme', 'primary screening', { referralReason: 'screening' }, 'out'],
    ['programme', 'no reason', { referralReason: undefined }, 'eligibility-not-recorded'],
    ['eu', 'an earlier resection', { earlierResection: true }, 'met'],
    ['aga', 'surveillance', { referralReason: 'surveillance' }, 'met'],
    ['aga', 'symptoms', { referralReason: 'symptoms' }, 'out'],
    ['us2015', 'surveillance', { referralReason: 'surveillance' }, 'out'],
    ['us2015', 'an earlier resection', { earlierResection: true }, 'excluded'],
    ['kept', 'an earlier resection', { earlierResection: true }, 'met'],
    ['kept', 'aged 45', { age: 45 }, 'met'],
    ['kept', 'aged 44', { age: 44 }, 'out'],
    ['kept', 'age unknown', { age: undefined }, 'eligibility-not-recorded'],
    ['kept', 'a polyp seen and left', { polypCount: 1 }, 'met'],
    ['noLesion', 'a polyp seen and left', { polypCount: 1 }, 'out'],
    ['noLesion', 'a known lesion seen again', { knownLesionCount: 1 }, 'out'],
    ['noLesion', 'polyps not recorded', { polypCount: undefined }, 'eligibility-not-recorded'],
    ['noLesion', 'an earlier resection', { earlierResection: true }, 'excluded'],
    ['noLesion', 'aged 44', { age: 44 }, 'out'],
  ])('%s: %s', (name, _, facts, answer) => {
    expect(answerTo(ids[name], { ...inside[name], ...facts }).code).toBe(answer)
  })

  it('US 2024 itself leaves the earlier resection out, and keeps the polyp that was left', () => {
    expect(answerTo('withdrawal-time-us-2024', { earlierResection: true }).code).toBe('excluded')
    expect(answerTo('withdrawal-time-us-2024', { polypCount: 1 }).code).toBe('met')
  })

  it('where resections are kept they are counted beside', () => {
    for (const name of ['uk', 'programme', 'eu', 'aga', 'kept'] as const) {
      const answer = answerTo(ids[name], { ...inside[name], earlierResection: true, withdrawalMinutes: 5 })
      expect([name, answer]).toEqual([name, { code: 'met', value: 5, besides: [0] }])
    }
  })

  it.each<[Name, object]>([
    ['uk', { minimum: 6, aspirational: 10, fromMemory: false }],
    ['programme', { minimum: 6, aspirational: 10, fromMemory: false }],
    ['eu', { minimum: 6, aspirational: 10, fromMemory: true }],
    ['aga', { minimum: 6, aspirational: 9, fromMemory: false }],
    ['us2015', { minimum: 6, fromMemory: true }],
    ['kept', { minimum: 8, fromMemory: false }],
    ['noLesion', { minimum: 8, fromMemory: false }],
  ])('the standard of %s, in minutes, of a mean', (name, figures) => {
    const { standard, aggregate, scoreUnit, improvement } = measureOf(ids[name]).definition
    expect({ ...standard, name: undefined }).toEqual({ ...figures, name: undefined })
    expect({ aggregate, scoreUnit, improvement }).toEqual({
      aggregate: 'mean',
      scoreUnit: 'min',
      improvement: 'increase',
    })
  })
})

describe('days from a positive test', () => {
  const id = 'days-from-positive-test-descriptive'
  const tested: Facts = { referralReason: 'positive-screening-test' }

  it.each<[what: string, facts: Facts, answer: object]>([
    ['31 days', { ...tested, daysFromPositiveTest: 31 }, { code: 'met', value: 31 }],
    ['the same day', { ...tested, daysFromPositiveTest: 0 }, { code: 'met', value: 0 }],
    ['no date of the test', tested, { code: 'not-recorded' }],
    [
      'symptoms with a positive test',
      { referralReason: 'symptoms-positive-test', daysFromPositiveTest: 9 },
      { code: 'out' },
    ],
    ['no reason', { referralReason: undefined, daysFromPositiveTest: 9 }, { code: 'eligibility-not-recorded' }],
    [
      'a second examination, beside',
      { ...tested, daysFromPositiveTest: 90, afterIncompleteExamination: true },
      { code: 'met', value: 90, besides: [0] },
    ],
  ])('%s', (_, facts, answer) => {
    expect(answerTo(id, facts)).toEqual(answer)
  })

  it('is a median of days, and fewer are better', () => {
    const { aggregate, scoreUnit, standard, improvement } = measureOf(id).definition
    expect({ aggregate, scoreUnit, standard, improvement }).toEqual({
      aggregate: 'median',
      scoreUnit: 'd',
      improvement: 'decrease',
    })
  })
})
