import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'

type Line = [what: string, facts: Facts, answer: AnswerCode]

const notReached: Facts = { caecumReached: false, completionPhotographed: false, completion: 'stopped' }
const forStool: Facts = {
  ...notReached,
  stopReason: 'inadequate-preparation',
  stoppedForPreparation: true,
  segmentsAllAtLeast2: false,
}
const forStricture: Facts = { ...notReached, stopReason: 'impassable-stricture', impassableStricture: true }
const forColitis: Facts = { ...notReached, stopReason: 'severe-inflammation' }
const knownLesion: Facts = { referralReason: 'known-lesion', referredForKnownLesion: true }

// Unadjusted, and proven by a photograph: EU 2017, US 2024 and AGA 2021 as far as their definitions are known, UK 2016 and the
// UK screening programme as read. Every examination that was meant to be complete is in.
const proven: Line[] = [
  ['reached and photographed', {}, 'met'],
  ['reached as stated, without a photograph', { completionPhotographed: false }, 'not-met'],
  ['reached, and a photograph that cannot be read', { completionPhotographed: undefined }, 'not-recorded'],
  ['completed, but how far nobody says', { caecumReached: undefined }, 'not-recorded'],
  ['nothing says how far, and no photograph', { caecumReached: undefined, completionPhotographed: false }, 'not-met'],
  ['stopped for stool', forStool, 'not-met'],
  ['stopped by a stricture', forStricture, 'not-met'],
  ['stopped for discomfort', { ...notReached, stopReason: 'discomfort' }, 'not-met'],
  ['a limited examination', { intent: 'limited' }, 'out'],
  ['an intent that cannot be read', { intent: undefined }, 'eligibility-not-recorded'],
]

describe.each([
  ['caecal-intubation-rate-eu-2017', {}],
  ['caecal-intubation-rate-us-2024', {}],
  ['caecal-intubation-rate-aga-2021', {}],
  ['caecal-intubation-rate-uk-screening-programme', { referralReason: 'positive-screening-test' } satisfies Facts],
])('%s', (id, inside) => {
  it.each(proven)('%s', (_, facts, answer) => {
    expect(answerTo(id, { ...inside, ...facts }).code).toBe(answer)
  })

  it('counts beside what was reached without a photograph', () => {
    expect(answerTo(id, { ...inside, completionPhotographed: false }).besides).toEqual([0])
    expect(answerTo(id, { ...inside }).besides).toBeUndefined()
  })
})

it.each<[string, string, Facts, AnswerCode]>([
  ['eu-2017', 'leaves out a known lesion, a therapeutic examination', knownLesion, 'excluded'],
  ['eu-2017', 'leaves it out where only the text of the reason says so', { referredForKnownLesion: true }, 'excluded'],
  ['eu-2017', 'keeps a site check', { referralReason: 'site-check' }, 'met'],
  ['us-2024', 'keeps a known lesion', knownLesion, 'met'],
  ['us-2024', 'asks for no reason', { referralReason: undefined }, 'met'],
  ['aga-2021', 'has surveillance', { referralReason: 'surveillance' }, 'met'],
  ['aga-2021', 'has no symptoms', { referralReason: 'symptoms' }, 'out'],
  ['aga-2021', 'needs a reason', { referralReason: undefined }, 'eligibility-not-recorded'],
  ['uk-screening-programme', 'has no primary screening', {}, 'out'],
  [
    'uk-screening-programme',
    'has no symptoms with a positive test',
    { referralReason: 'symptoms-positive-test' },
    'out',
  ],
  ['uk-screening-programme', 'needs a reason', { referralReason: undefined }, 'eligibility-not-recorded'],
])('caecal-intubation-rate-%s %s', (standard, _, facts, answer) => {
  expect(answerTo(`caecal-intubation-rate-${standard}`, facts).code).toBe(answer)
})

it('without the reason, an exclusion that could not be decided keeps the examination and is counted', () => {
  const facts: Facts = { referralReason: undefined, referredForKnownLesion: undefined }
  expect(answerTo('caecal-intubation-rate-eu-2017', facts)).toEqual({ code: 'met', exclusionUnrecorded: true })
})

// The minimum and aspirational standards as read: EU 90 %, US 95 %, AGA 90 to 95 %, UK screening programme 90 to 97 %;
// US 2015 90 % and, for screening, 95 %, from memory.
it.each([
  ['eu-2017', { minimum: 0.9, fromMemory: false }],
  ['us-2024', { minimum: 0.95, fromMemory: false }],
  ['aga-2021', { minimum: 0.9, aspirational: 0.95, fromMemory: false }],
  ['uk-screening-programme', { minimum: 0.9, aspirational: 0.97, fromMemory: false }],
  ['adjusted-us-2015', { minimum: 0.9, fromMemory: true }],
  ['adjusted-screening-us-2015', { minimum: 0.95, fromMemory: true }],
])('the standard of %s', (standard, expected) => {
  const { name, ...figures } = measureOf(`caecal-intubation-rate-${standard}`).definition.standard ?? { name: '' }
  expect(figures).toEqual(expected)
  expect(name).not.toBe('')
})

// US 2015, from memory: cases given up for poor preparation or severe colitis need not be counted, nor those to treat a known
// lesion; a stricture only where treating it was the aim; discomfort, looping and sedation never.
describe('caecal-intubation-rate-adjusted-us-2015', () => {
  const id = 'caecal-intubation-rate-adjusted-us-2015'

  it.each<Line>([
    ['reached, photograph or not', { completionPhotographed: false }, 'met'],
    ['stopped for stool', forStool, 'excluded'],
    ['stopped for stool, the reason alone recorded', { ...forStool, segmentsAllAtLeast2: undefined }, 'excluded'],
    [
      'a reason that the scores contradict',
      { ...forStool, stoppedForPreparation: undefined, segmentsAllAtLeast2: undefined },
      'not-met',
    ],
    [
      'poor scores, but stopped for looping',
      { ...notReached, stopReason: 'looping', segmentsAllAtLeast2: false },
      'not-met',
    ],
    ['severe colitis first seen on the day', { ...forColitis, inflammatoryBowelDiseaseSeen: true }, 'excluded'],
    ['severe inflammation in a known colitis', { ...forColitis, inflammatoryBowelDisease: true }, 'excluded'],
    ['severe inflammation on the operator’s word alone', forColitis, 'not-met'],
    [
      'a colitis, but stopped for discomfort',
      { ...notReached, stopReason: 'discomfort', inflammatoryBowelDisease: true },
      'not-met',
    ],
    ['a stricture', forStricture, 'not-met'],
    ['a stricture in a known lesion to be treated', { ...forStricture, ...knownLesion }, 'excluded'],
    ['a known lesion, reached', knownLesion, 'excluded'],
    ['stopped by sedation', { ...notReached, stopReason: 'sedation' }, 'not-met'],
    ['completed with poor preparation', { segmentsAllAtLeast2: false }, 'met'],
    ['nobody says how far', { caecumReached: undefined }, 'not-recorded'],
    ['limited', { intent: 'limited' }, 'out'],
    ['an intent that cannot be read', { intent: undefined }, 'eligibility-not-recorded'],
  ])('%s', (_, facts, answer) => {
    expect(answerTo(id, facts).code).toBe(answer)
    expect(
      answerTo('caecal-intubation-rate-adjusted-screening-us-2015', { ...facts, referralReason: 'surveillance' }).code,
    ).toBe('out')
  })

  it('stopped for no stated reason: kept, and the undecided exclusion counted', () => {
    expect(answerTo(id, { ...notReached, stopReason: undefined, stoppedForPreparation: undefined })).toEqual({
      code: 'not-met',
      exclusionUnrecorded: true,
    })
  })

  it('counts beside what is kept against the operator’s word, strictures, and what preparation took away', () => {
    expect(answerTo(id, forColitis).besides).toEqual([0])
    expect(answerTo(id, forStricture).besides).toEqual([1])
    expect(answerTo(id, forStool).besides).toEqual([2])
  })

  it('for screening is the same over screening alone', () => {
    const screening = 'caecal-intubation-rate-adjusted-screening-us-2015'
    expect(answerTo(screening, {}).code).toBe('met')
    expect(answerTo(screening, forStool).code).toBe('excluded')
    expect(answerTo(screening, forStricture).code).toBe('not-met')
    expect(answerTo(screening, { referralReason: 'symptoms' }).code).toBe('out')
    expect(answerTo(screening, { referralReason: undefined }).code).toBe('eligibility-not-recorded')
  })
})

it.each<Line>([
  ['stated and photographed', {}, 'met'],
  ['stated alone', { completionPhotographed: false }, 'met'],
  ['not reached', notReached, 'not-met'],
  ['stopped for stool', forStool, 'not-met'],
  ['nobody says how far', { caecumReached: undefined }, 'not-recorded'],
  ['limited', { intent: 'limited' }, 'out'],
])('caecal-intubation-rate-without-proof-descriptive: %s', (_, facts, answer) => {
  expect(answerTo('caecal-intubation-rate-without-proof-descriptive', facts).code).toBe(answer)
})

it('claims without a photograph are counted beside those that are met, and have no feed of photographs to wait for', () => {
  const id = 'caecal-intubation-rate-without-proof-descriptive'
  expect(answerTo(id, { completionPhotographed: false }).besides).toEqual([0])
  expect(answerTo(id, {}).besides).toBeUndefined()
  expect(measureOf(id).definition).toMatchObject({ needs: [] })
  expect(measureOf(id).definition.standard).toBeUndefined()
})

// A documented choice: help in words is help in the first measure and none in the second.
describe('caecal intubation by trainees', () => {
  const trainee: Facts = { operatorRole: 'trainee', takeover: 'none' }
  it.each<[what: string, facts: Facts, alone: AnswerCode, withoutTakeover: AnswerCode]>([
    ['alone', trainee, 'met', 'met'],
    ['helped in words', { ...trainee, takeover: 'verbal' }, 'not-met', 'met'],
    ['taken over by hand', { ...trainee, takeover: 'hands-on' }, 'not-met', 'not-met'],
    ['help not stated', { ...trainee, takeover: undefined }, 'not-recorded', 'not-recorded'],
    ['help not stated, and not reached', { ...trainee, ...notReached, takeover: undefined }, 'not-met', 'not-met'],
    ['not reached alone', { ...trainee, ...notReached }, 'not-met', 'not-met'],
    ['nobody says how far', { ...trainee, caecumReached: undefined }, 'not-recorded', 'not-recorded'],
    ['limited', { ...trainee, intent: 'limited' }, 'out', 'out'],
    ['not in training', { takeover: 'none' }, 'out', 'out'],
    [
      'role not recorded',
      { operatorRole: undefined, takeover: 'none' },
      'eligibility-not-recorded',
      'eligibility-not-recorded',
    ],
  ])('%s', (_, facts, alone, withoutTakeover) => {
    expect(answerTo('unassisted-caecal-intubation-rate-trainees-descriptive', facts).code).toBe(alone)
    expect(answerTo('caecal-intubation-rate-without-takeover-trainees-descriptive', facts).code).toBe(withoutTakeover)
  })
})

it.each<Line>([
  ['reached', { afterIncompleteExamination: true }, 'met'],
  ['again not reached', { afterIncompleteExamination: true, ...notReached }, 'not-met'],
  ['nobody says how far', { afterIncompleteExamination: true, caecumReached: undefined }, 'not-recorded'],
  ['a limited one', { afterIncompleteExamination: true, intent: 'limited' }, 'out'],
  ['not after an incomplete one', {}, 'out'],
  ['reason not known', { afterIncompleteExamination: undefined }, 'eligibility-not-recorded'],
])('completion-after-incomplete-examination-descriptive: %s', (_, facts, answer) => {
  expect(answerTo('completion-after-incomplete-examination-descriptive', facts).code).toBe(answer)
})
