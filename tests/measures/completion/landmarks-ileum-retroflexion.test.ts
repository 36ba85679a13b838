import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, measureOf } from '../measure-of.ts'

// US government measure 425, texts as reproduced by third parties: screening and surveillance at any age, not discontinued;
// two landmarks at least since 2020, landmarks without a number in 2017; surgery that changed the anatomy excluded. An anastomosis is
// no landmark of the caecum.
describe('landmark photographs', () => {
  it.each<[what: string, facts: Facts, of2020: AnswerCode, of2017: AnswerCode]>([
    ['two landmarks', {}, 'met', 'met'],
    ['three landmarks', { landmarkPhotographCount: 3 }, 'met', 'met'],
    ['one landmark', { landmarkPhotographCount: 1 }, 'not-met', 'met'],
    ['none', { landmarkPhotographCount: 0, completionPhotographed: false }, 'not-met', 'not-met'],
    ['two, neither of the caecum', { completionPhotographed: false }, 'not-met', 'not-met'],
    [
      'a photograph that cannot be read',
      { landmarkPhotographCount: undefined, completionPhotographed: undefined },
      'not-recorded',
      'not-recorded',
    ],
    ['surveillance', { referralReason: 'surveillance', age: 30 }, 'met', 'met'],
    ['symptoms', { referralReason: 'symptoms' }, 'out', 'out'],
    ['after a positive test', { referralReason: 'positive-screening-test' }, 'out', 'out'],
    ['reason not recorded', { referralReason: undefined }, 'eligibility-not-recorded', 'eligibility-not-recorded'],
    ['discontinued', { completion: 'stopped', caecumReached: false }, 'out', 'out'],
    ['completion not recorded', { completion: undefined }, 'eligibility-not-recorded', 'eligibility-not-recorded'],
    ['right half resected', { earlierResection: true, resectedPart: 'right' }, 'excluded', 'excluded'],
    ['subtotal resection', { earlierResection: true, resectedPart: 'subtotal' }, 'excluded', 'excluded'],
    ['sigmoid resected', { earlierResection: true, resectedPart: 'left' }, 'met', 'met'],
    [
      'ended at an anastomosis, part resected not named',
      { earlierResection: true, extent: 'anastomosis', landmarkPhotographCount: 1 },
      'excluded',
      'excluded',
    ],
    [
      'ended at an anastomosis after several resections',
      { earlierResection: true, resectedPart: 'several', extent: 'anastomosis', landmarkPhotographCount: 1 },
      'excluded',
      'excluded',
    ],
    [
      'sigmoid resected, the anastomosis photographed and not the caecum',
      { earlierResection: true, resectedPart: 'left', extent: 'anastomosis', landmarkPhotographCount: 1 },
      'not-met',
      'not-met',
    ],
    [
      'photographed, but which landmark is the deepest is not known',
      { extent: undefined },
      'not-recorded',
      'not-recorded',
    ],
  ])('%s', (_, facts, of2020, of2017) => {
    expect(answerTo('landmark-photographs-us-government-2020', facts).code).toBe(of2020)
    expect(answerTo('landmark-photographs-us-government-2017', facts).code).toBe(of2017)
  })

  it.each<[string, Facts]>([
    ['several parts', { earlierResection: true, resectedPart: 'several' }],
    ['a part nobody names', { earlierResection: true }],
  ])('after a resection of %s it is kept, and the undecided exclusion counted', (_, facts) => {
    expect(answerTo('landmark-photographs-us-government-2020', facts)).toMatchObject({
      code: 'met',
      exclusionUnrecorded: true,
    })
  })

  it('states no threshold, and is not available where no photograph is ever sent', () => {
    const { standard, needs } = measureOf('landmark-photographs-us-government-2020').definition
    expect(standard).toEqual({ name: 'US government measure, text of 2020', fromMemory: false })
    expect(needs).toEqual(['photographs'])
  })
})

// No guideline that was read has a threshold for the ileum: shares of attempts and of all, to be read by reason.
describe('terminal ileum', () => {
  const attempts = 'ileum-entered-of-attempted-descriptive'
  const all = 'ileum-entered-of-all-descriptive'

  it.each<[what: string, facts: Facts, ofAttempts: AnswerCode, ofAll: AnswerCode]>([
    ['entered', { ileum: 'done' }, 'met', 'met'],
    ['tried without success', { ileum: 'attempted' }, 'not-met', 'not-met'],
    ['not tried', { ileum: 'not-attempted' }, 'out', 'not-met'],
    ['nothing recorded', { ileum: undefined }, 'eligibility-not-recorded', 'not-recorded'],
    [
      'caecum not reached, nothing recorded of the ileum',
      { ileum: undefined, caecumReached: false },
      'eligibility-not-recorded',
      'not-met',
    ],
    ['limited, and entered', { intent: 'limited' }, 'met', 'out'],
    ['intent that cannot be read', { intent: undefined }, 'met', 'eligibility-not-recorded'],
  ])('%s', (_, facts, ofAttempts, ofAll) => {
    expect(answerTo(attempts, facts).code).toBe(ofAttempts)
    expect(answerTo(all, facts).code).toBe(ofAll)
  })

  it('counts chronic diarrhoea beside all and beside those entered, and what was not tried', () => {
    expect(answerTo(all, { chronicDiarrhoea: true }).besides).toEqual([0, 1])
    expect(answerTo(all, { chronicDiarrhoea: true, ileum: 'not-attempted' }).besides).toEqual([0, 2])
    expect(answerTo(attempts, { chronicDiarrhoea: true, ileum: 'attempted' }).besides).toEqual([0])
    expect(answerTo(all, { chronicDiarrhoea: undefined }).besides).toBeUndefined()
  })

  it('neither more nor less is better, nothing is a standard, and referral reason is a stratum', () => {
    for (const id of [attempts, all]) {
      const { improvement, standard, stratifiers } = measureOf(id).definition
      expect([improvement, standard]).toEqual([undefined, undefined])
      expect(stratifiers.map(({ dimensions }) => dimensions)).toContainEqual(['referral-reason'])
    }
  })
})

// UK 2016: 90 % (read); without a rectum excluded, and excepted for a small rectum, severe proctitis or discomfort (from memory).
describe('rectal retroflexion', () => {
  const id = 'rectal-retroflexion-rate-uk-2016'
  const notDone: Facts = { retroflexion: 'not-attempted' }

  it.each<[what: string, facts: Facts, of2016: AnswerCode, ofAttempts: AnswerCode]>([
    ['done', {}, 'met', 'met'],
    ['tried without success', { retroflexion: 'attempted' }, 'not-met', 'not-met'],
    ['not tried, no reason recorded', notDone, 'not-met', 'out'],
    ['nothing recorded', { retroflexion: undefined }, 'not-recorded', 'eligibility-not-recorded'],
    ['severe colitis known before', { ...notDone, inflammatoryBowelDiseaseActivity: 'severe' }, 'excepted', 'out'],
    ['active colitis known before', { ...notDone, inflammatoryBowelDiseaseActivity: 'active' }, 'not-met', 'out'],
    ['severe colitis, and yet done', { inflammatoryBowelDiseaseActivity: 'severe' }, 'met', 'met'],
    ['stopped for discomfort', { ...notDone, completion: 'stopped', stopReason: 'discomfort' }, 'excepted', 'out'],
    [
      'stopped for severe inflammation',
      { ...notDone, completion: 'stopped', stopReason: 'severe-inflammation' },
      'excepted',
      'out',
    ],
    [
      'stopped for stool',
      { ...notDone, completion: 'stopped', stopReason: 'inadequate-preparation' },
      'not-met',
      'out',
    ],
    ['rectum resected', { ...notDone, earlierResection: true, resectedPart: 'rectum' }, 'excluded', 'out'],
    ['total colectomy', { ...notDone, earlierResection: true, resectedPart: 'total' }, 'excluded', 'out'],
    ['right half resected', { ...notDone, earlierResection: true, resectedPart: 'right' }, 'not-met', 'out'],
    ['a limited examination', { intent: 'limited' }, 'met', 'met'],
  ])('%s', (_, facts, of2016, ofAttempts) => {
    expect(answerTo(id, facts).code).toBe(of2016)
    expect(answerTo('rectal-retroflexion-of-attempted-descriptive', facts).code).toBe(ofAttempts)
  })

  it('keeps a resection that may have taken the rectum, and counts the undecided exclusion', () => {
    expect(answerTo(id, { ...notDone, earlierResection: true, resectedPart: 'several' })).toEqual({
      code: 'not-met',
      exclusionUnrecorded: true,
    })
  })

  it('has the standard of 90 %, and counts attempts without success beside', () => {
    expect(measureOf(id).definition.standard).toEqual({ name: 'UK 2016', minimum: 0.9, fromMemory: false })
    expect(answerTo(id, { retroflexion: 'attempted' }).besides).toEqual([0])
  })
})
