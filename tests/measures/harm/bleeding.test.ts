import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { measureOf } from '../measure-of.ts'
import { answerOn, besideOn } from './asked.ts'
import { bleedingMeasures, type Facts, followedBy, worseBleedingMeasures } from './uneventful.ts'

// Windows of 14 days (Ontario, doi 10.1055/a-1381-7149) and 30 days (Florida, PMC4857725), read. Severity: Cotton 2010 (mild,
// moderate, severe, fatal; read in part). Intermediate or worse is moderate or worse: UK 2016, from memory.
const bled = (day: number | undefined, severity?: 'mild' | 'moderate' | 'severe' | 'fatal'): Facts => ({
  bleeding: true,
  bleedingDay: day,
  bleedingSeverity: severity,
})

describe.each([...bleedingMeasures, ...worseBleedingMeasures])('$id', ({ id, days }) => {
  it.each<[string, Facts, AnswerCode]>([
    ['none', {}, 'not-met'],
    ['severe, on the day', bled(0, 'severe'), 'met'],
    ['moderate, on the last day of the window', bled(days, 'moderate'), 'met'],
    ['fatal', bled(2, 'fatal'), 'met'],
    ['severe, a day after the window', bled(days + 1, 'severe'), 'not-met'],
    ['of a severity that nobody stated, after the window', bled(days + 1), 'not-met'],
    ['severe, on a day that nobody recorded', bled(undefined, 'severe'), 'not-recorded'],
    ['undecided', { bleeding: undefined }, 'not-recorded'],
    ['after an examination in which no polyp was removed', { ...bled(0, 'severe'), polypRemoved: false }, 'out'],
    ['removal not recorded', { ...bled(0, 'severe'), polypRemoved: undefined }, 'eligibility-not-recorded'],
    ['a perforation, which is another event', { perforation: true, perforationDay: 0 }, 'not-met'],
  ])('bleeding: %s', (_, facts, code) => {
    expect(answerOn(id, followedBy(facts)).code).toBe(code)
  })

  it('waits until the last day of the window has passed', () => {
    expect(answerOn(id, followedBy({}), days).code).toBe('pending')
    expect(answerOn(id, followedBy({}), days + 1).code).toBe('not-met')
    expect(answerOn(id, followedBy(bled(1, 'severe')), 2)).toMatchObject({ code: 'pending', alreadyMet: true })
  })
})

it.each(bleedingMeasures)('$id counts every severity, stated or not', ({ id }) => {
  expect(answerOn(id, followedBy(bled(3, 'mild'))).code).toBe('met')
  expect(answerOn(id, followedBy(bled(3))).code).toBe('met')
})

it.each(worseBleedingMeasures)('$id does not count a mild one, and leaves open one that nobody graded', ({ id }) => {
  expect(answerOn(id, followedBy(bled(3, 'mild'))).code).toBe('not-met')
  expect(answerOn(id, followedBy(bled(3))).code).toBe('not-recorded')
})

describe('what each bleeding was is counted beside', () => {
  const graded = bleedingMeasures.filter(({ id }) => id !== 'post-polypectomy-bleeding-rate-30-day-descriptive')
  it.each(graded)('$id', ({ id }) => {
    expect(besideOn(id, followedBy(bled(3, 'mild')))).toEqual(['Of them mild'])
    expect(besideOn(id, followedBy(bled(3, 'moderate')))).toEqual(['Of them moderate'])
    expect(besideOn(id, followedBy(bled(3, 'severe')))).toEqual(['Of them severe'])
    expect(besideOn(id, followedBy(bled(3, 'fatal')))).toEqual(['Of them fatal'])
    expect(besideOn(id, followedBy(bled(3)))).toEqual(['Of them of a severity that nobody stated'])
    expect(besideOn(id, followedBy(bled(0, 'mild')))).toEqual(['Of them mild', 'Of them on the day of the examination'])
    expect(besideOn(id, followedBy({}))).toEqual([])
  })
})

it.each([14, 30])(
  'within %i days after a positive screening test, and only then, for the UK screening programme',
  (days) => {
    const id = `post-polypectomy-bleeding-rate-${days}-day-uk-screening-programme`
    expect(answerOn(id, followedBy({ referralReason: 'symptoms' })).code).toBe('out')
    expect(answerOn(id, followedBy({ referralReason: 'screening' })).code).toBe('out')
    expect(answerOn(id, followedBy({ referralReason: undefined })).code).toBe('eligibility-not-recorded')
    expect(answerOn(id, followedBy({})).code).toBe('not-met')
  },
)

// Table 7 of gut.bmj.com/highwire/markup/183260 (read): fewer than 1 in 100. US 2015: below 1 %; UK 2016: 1 in 200 and 1 in
// 1,000, intermediate or worse: from memory.
it.each([
  ['', 'uk-screening-programme', { minimum: 1 / 100, fromMemory: false }],
  ['', 'us-2015', { minimum: 1 / 100, fromMemory: true }],
  ['intermediate-or-worse-', 'uk-2016', { minimum: 1 / 200, aspirational: 1 / 1000, fromMemory: true }],
] as const)('the limit of %s %s', (severity, standard, limits) => {
  for (const days of [14, 30]) {
    const { definition } = measureOf(`post-polypectomy-bleeding-rate-${severity}${days}-day-${standard}`)
    expect(definition.standard).toMatchObject(limits)
    expect(definition.improvement).toBe('decrease')
  }
})
