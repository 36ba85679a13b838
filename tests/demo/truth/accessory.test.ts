import { expect, it } from 'vitest'
import { truthAnswer } from '../../../src/local/demo/truth.ts'
import type { TruthRow } from '../../../src/local/demo/truth-row.ts'
import { plain } from '../plain-row.ts'

// Expected from the definitions of the measures.
type Line = readonly [string, Partial<TruthRow>, readonly string[]]

const [before, later, none] = (['before-insertion', 'added-later', 'none'] as const).map((attachment) => ({
  attachment,
}))
/** Asked beforehand, and nothing there. */
const healthy: Partial<TruthRow> = { strictureKnown: false, severeDiverticulosis: false }
const colitis = (activity?: 'quiescent' | 'active' | 'severe'): Partial<TruthRow> => ({
  inflammatoryBowelDisease: true,
  inflammatoryBowelDiseaseActivity: activity,
})
const given = (stopReason?: TruthRow['stopReason']): Partial<TruthRow> => ({
  stopped: true,
  extent: 'sigmoid',
  photographs: [],
  ...(stopReason && { stopReason }),
})
const answers = (measures: readonly string[], facts: Partial<TruthRow>) =>
  measures.map((measure) => truthAnswer(`attachment-${measure}-share-descriptive`, { ...plain, ...facts }).answer)

it.each<Line>([
  ['there from the start', { ...before }, ['met', 'notMet']],
  ['added later', { ...later }, ['notMet', 'met']],
  ['none', { ...none }, ['notMet', 'notMet']],
  ['nobody says', {}, ['notRecorded', 'notRecorded']],
])('an attachment: %s', (_, facts, expected) => {
  expect(answers(['before-insertion', 'added-later'], facts)).toEqual(expected)
})

it.each<Line>([
  ['kept', { ...before, attachmentOutcome: 'kept' }, ['notMet', 'notMet', 'out']],
  [
    'taken off, and put on again',
    { ...before, attachmentOutcome: 'removed', attachmentReinserted: true },
    ['met', 'notMet', 'met'],
  ],
  [
    'lost, and not put on again',
    { ...later, attachmentOutcome: 'detached', attachmentReinserted: false },
    ['notMet', 'met', 'notMet'],
  ],
  [
    'lost, and nobody says what followed',
    { ...later, attachmentOutcome: 'detached' },
    ['notMet', 'met', 'notRecorded'],
  ],
  ['nobody says', { ...before }, ['notRecorded', 'notRecorded', 'eligibilityNotRecorded']],
  ['never there', { ...none }, ['out', 'out', 'out']],
  [
    'taken off, and nobody says when it was put on',
    { attachmentOutcome: 'removed' },
    ['eligibilityNotRecorded', 'eligibilityNotRecorded', 'eligibilityNotRecorded'],
  ],
])('what became of it: %s', (_, facts, expected) => {
  expect(answers(['removed', 'detached', 'reinserted'], facts)).toEqual(expected)
})

it.each<Line>([
  ['nothing', { ...healthy, ...before }, ['notMet', 'out']],
  ['a stricture, with an attachment', { ...healthy, ...before, strictureKnown: true }, ['met', 'notMet']],
  ['a stricture, without', { ...healthy, ...none, strictureKnown: true }, ['out', 'met']],
  [
    'a diverticular segment, and nobody says',
    { severeDiverticulosis: true },
    ['eligibilityNotRecorded', 'notRecorded'],
  ],
  ['an active colitis', { ...healthy, ...later, ...colitis('active') }, ['met', 'notMet']],
  ['a severe colitis', { ...healthy, ...none, ...colitis('severe') }, ['out', 'met']],
  ['a quiescent colitis', { ...healthy, ...before, ...colitis('quiescent') }, ['notMet', 'out']],
  ['a colitis of unknown activity', { ...healthy, ...before, ...colitis() }, ['notRecorded', 'eligibilityNotRecorded']],
  [
    'a colitis of unknown activity, and a stricture',
    { ...before, ...colitis(), strictureKnown: true },
    ['met', 'notMet'],
  ],
  ['a stricture perhaps', { ...before, severeDiverticulosis: false }, ['notRecorded', 'eligibilityNotRecorded']],
])('recorded beforehand: %s', (_, facts, expected) => {
  expect(answers(['with-recorded-caution', 'withheld-with-recorded-caution'], facts)).toEqual(expected)
})

it.each<Line>([
  ['resected before', { ...before, earlierResection: true }, ['met']],
  ['17 years old', { ...before, age: 17 }, ['met']],
  ['18 years old', { ...before, age: 18 }, ['notMet']],
  ['resected before, without an attachment', { ...none, earlierResection: true }, ['out']],
])('left out by a trial: %s', (_, facts, expected) => {
  expect(answers(['with-trial-exclusion'], facts)).toEqual(expected)
})

it('of unknown age, nobody knows whether a trial left the patient out', () => {
  const { age: _, ...ageless } = plain
  const row: TruthRow = { ...ageless, ...before }
  expect(truthAnswer('attachment-with-trial-exclusion-share-descriptive', row).answer).toBe('notRecorded')
})

const kept: Partial<TruthRow> = {
  ...healthy,
  ...before,
  attachmentOutcome: 'kept',
  inflammatoryBowelDiseaseSeen: false,
}
it.each<Line>([
  ['nothing', kept, ['notMet']],
  ['a disease first recognised', { ...kept, inflammatoryBowelDiseaseSeen: true }, ['met']],
  ['a stricture', { ...kept, ...given('impassable-stricture') }, ['met']],
  [
    'a stricture, and it came off',
    { ...kept, ...given('impassable-stricture'), attachmentOutcome: 'removed' },
    ['notMet'],
  ],
  ['a stricture that was known', { ...kept, ...given('impassable-stricture'), strictureKnown: true }, ['notMet']],
  ['inflammation', { ...kept, ...given('severe-inflammation') }, ['met']],
  [
    'inflammation of a colitis known as active',
    { ...kept, ...given('severe-inflammation'), ...colitis('active') },
    ['notMet'],
  ],
  ['a known colitis of which nobody says how it looked', { ...kept, ...colitis('quiescent') }, ['notRecorded']],
  ['an end for no stated reason', { ...kept, ...given() }, ['notRecorded']],
  ['an end for discomfort', { ...kept, ...given('discomfort') }, ['notMet']],
  [
    'the caecum, though it is called stopped',
    { ...kept, ...given('impassable-stricture'), extent: 'caecum' },
    ['notMet'],
  ],
])('first seen during the examination: %s', (_, facts, expected) => {
  expect(answers(['left-on-after-finding'], facts)).toEqual(expected)
})
