import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'
import { answerTo, type Facts, measureOf, ordinary } from '../measure-of.ts'

// These ask whether something was written down: only here is absence a no.
describe('recorded', () => {
  it.each<[id: string, what: string, facts: Facts, answer: AnswerCode]>([
    ['withdrawal-time-recorded-us-2015', 'a time', {}, 'met'],
    ['withdrawal-time-recorded-us-2015', 'a time where something was taken', { tissueTakenOrTreated: true }, 'met'],
    ['withdrawal-time-recorded-us-2015', 'no time', { withdrawalMinutes: undefined }, 'not-met'],
    ['withdrawal-time-recorded-us-2015', 'caecum not reached', { caecumReached: false }, 'out'],
    [
      'withdrawal-time-recorded-us-2015',
      'nobody says how far',
      { caecumReached: undefined },
      'eligibility-not-recorded',
    ],
    ['comfort-recorded-descriptive', 'a score', {}, 'met'],
    ['comfort-recorded-descriptive', 'a score of 0', { comfortScale: 'zero-to-four', comfortScore: 0 }, 'met'],
    ['comfort-recorded-descriptive', 'a scale and no score', { comfortScore: undefined }, 'not-met'],
    [
      'comfort-recorded-uk-screening-programme',
      'a score after a positive test',
      { referralReason: 'positive-screening-test' },
      'met',
    ],
    [
      'comfort-recorded-uk-screening-programme',
      'no score after a positive test',
      { referralReason: 'positive-screening-test', comfortScore: undefined },
      'not-met',
    ],
    ['comfort-recorded-uk-screening-programme', 'primary screening', {}, 'out'],
    ['comfort-recorded-uk-screening-programme', 'no reason', { referralReason: undefined }, 'eligibility-not-recorded'],
    ['preparation-recorded-descriptive', 'Boston scores', {}, 'met'],
    ['preparation-recorded-descriptive', 'a grade', { preparationScale: 'grade', preparationGrade: 'fair' }, 'met'],
    ['preparation-recorded-descriptive', 'nothing', { preparationScale: undefined }, 'not-met'],
    ['photographs-recorded-descriptive', 'a landmark', {}, 'met'],
    ['photographs-recorded-descriptive', 'none', { completionPhotographed: false }, 'not-met'],
    [
      'photographs-recorded-descriptive',
      'one that cannot be read',
      { completionPhotographed: undefined },
      'not-recorded',
    ],
    ['photographs-recorded-descriptive', 'caecum not reached', { caecumReached: false }, 'out'],
    [
      'photographs-recorded-descriptive',
      'nobody says how far',
      { caecumReached: undefined },
      'eligibility-not-recorded',
    ],
    ['pathology-recorded-descriptive', 'final', { pathology: 'final' }, 'met'],
    ['pathology-recorded-descriptive', 'none sent', { pathology: 'not-sent' }, 'met'],
    ['pathology-recorded-descriptive', 'missing after the lag', { pathology: 'missing' }, 'not-met'],
    ['pathology-recorded-descriptive', 'unreadable', { pathology: 'unreadable' }, 'not-met'],
    ['pathology-recorded-descriptive', 'may still come', { pathology: 'pending' }, 'pending'],
    ['pathology-recorded-descriptive', 'nothing says whether any was sent', { pathology: undefined }, 'not-met'],
  ])('%s: %s', (id, _, facts, answer) => {
    expect(answerTo(id, facts).code).toBe(answer)
  })

  it('while the examination’s report is open nothing is missing yet', () => {
    const record = { ...ordinary, report: 'preliminary', withdrawalMinutes: undefined } as const
    const soon = { day: 20_000, asOfDay: 20_010, pathologyLagDays: 60, eventLagDays: 0 }
    expect(answerOf(measureOf('withdrawal-time-recorded-us-2015'), record, soon).code).toBe('pending')
  })

  it('counts beside how it was recorded, and what is missing why', () => {
    expect(answerTo('comfort-recorded-descriptive', { comfortScorer: 'patient' }).besides).toEqual([0])
    expect(answerTo('comfort-recorded-descriptive', { comfortScorer: 'nurse' }).besides).toEqual([1])
    expect(answerTo('preparation-recorded-descriptive', {}).besides).toEqual([0])
    const forStool: Facts = { preparationScale: undefined, stoppedForPreparation: true }
    expect(answerTo('preparation-recorded-descriptive', forStool).besides).toEqual([1])
    const pathology = (['not-sent', 'missing', 'unreadable'] as const).map(
      (state) => answerTo('pathology-recorded-descriptive', { pathology: state }).besides,
    )
    expect(pathology).toEqual([[0], [1], [2]])
  })

  // US 2015 from memory; the UK screening programme's 100 % as read. No guideline has one for the others.
  it.each([
    ['withdrawal-time-recorded-us-2015', 0.98, true],
    ['comfort-recorded-uk-screening-programme', 1, false],
    ['comfort-recorded-descriptive', undefined, undefined],
    ['preparation-recorded-descriptive', undefined, undefined],
    ['photographs-recorded-descriptive', undefined, undefined],
    ['pathology-recorded-descriptive', undefined, undefined],
  ])('the standard of %s', (id, minimum, fromMemory) => {
    const { standard } = measureOf(id).definition
    expect([standard?.minimum, standard?.fromMemory]).toEqual([minimum, fromMemory])
  })
})

// UK 2016, read: 100 in a year, performed or directly supervised with the trainer in the room.
describe('volume', () => {
  it.each<[id: string, attribution: string, minimum: number | undefined]>([
    ['colonoscopies-performed-descriptive', 'operator', undefined],
    ['colonoscopies-supervised-in-the-room-descriptive', 'supervisor-in-room', undefined],
    ['colonoscopies-performed-or-supervised-uk-2016', 'operator-or-supervisor-in-room', 100],
  ])('%s is a number for its person', (id, attribution, minimum) => {
    const { definition } = measureOf(id)
    expect([definition.scoring, definition.attribution, definition.standard?.minimum]).toEqual([
      'cohort',
      attribution,
      minimum,
    ])
  })

  it.each<[what: string, facts: Facts, performed: AnswerCode, supervised: AnswerCode]>([
    ['independent', {}, 'met', 'out'],
    ['incomplete and limited', { intent: 'limited', caecumReached: false }, 'met', 'out'],
    ['in training, supervisor in the room', { operatorRole: 'trainee', supervisorInRoom: true }, 'met', 'met'],
    ['in training, supervisor elsewhere', { operatorRole: 'trainee', supervisorInRoom: false }, 'met', 'out'],
    ['in training, nobody named', { operatorRole: 'trainee' }, 'met', 'eligibility-not-recorded'],
    ['role not recorded', { operatorRole: undefined, supervisorInRoom: true }, 'met', 'eligibility-not-recorded'],
  ])('%s', (_, facts, performed, supervised) => {
    expect(answerTo('colonoscopies-performed-descriptive', facts).code).toBe(performed)
    expect(answerTo('colonoscopies-performed-or-supervised-uk-2016', facts).code).toBe(performed)
    expect(answerTo('colonoscopies-supervised-in-the-room-descriptive', facts).code).toBe(supervised)
  })
})
