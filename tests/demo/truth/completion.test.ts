import { expect, it } from 'vitest'
import { truthAnswer, truthPersons } from '../../../src/local/demo/truth.ts'
import type { TruthRow } from '../../../src/local/demo/truth-row.ts'
import { plain } from '../plain-row.ts'

// Expected from the definitions of the measures.
type Line = readonly [string, Partial<TruthRow>, readonly string[]]
const answers = (measures: readonly string[], facts: Partial<TruthRow>) =>
  measures.map((measure) => truthAnswer(measure, { ...plain, ...facts }).answer)
const gaveUp = (stopReason: TruthRow['stopReason']): Partial<TruthRow> => ({
  stopped: true,
  ...(stopReason && { stopReason }),
  extent: 'sigmoid',
  photographs: [],
  preparation: { kind: 'segments', left: 1 },
})

it.each<Line>([
  ['the caecum photographed', {}, ['met', 'met', 'met']],
  ['the caecum without a photograph', { photographs: [] }, ['notMet', 'met', 'met']],
  ['a known lesion', { reason: 'known-lesion' }, ['excluded', 'excluded', 'met']],
  ['a limited examination', { intent: 'limited' }, ['out', 'out', 'out']],
  ['given up for stool', gaveUp('inadequate-preparation'), ['notMet', 'excluded', 'excluded']],
  ['given up for colitis that nobody recorded', gaveUp('severe-inflammation'), ['notMet', 'notMet', 'excluded']],
  [
    'given up for colitis seen on the day',
    { ...gaveUp('severe-inflammation'), inflammatoryBowelDiseaseSeen: true },
    ['notMet', 'excluded', 'excluded'],
  ],
  [
    'given up at a stricture',
    { ...gaveUp('impassable-stricture'), preparation: { kind: 'level', adequate: true } },
    ['notMet', 'notMet', 'excluded'],
  ],
])('completion: %s', (_, facts, expected) => {
  const ids = ['eu-2017', 'adjusted-us-2015', 'adjusted-uk-2011'].map((id) => `caecal-intubation-rate-${id}`)
  expect(answers(ids, facts)).toEqual(expected)
})

const trainee = { operatorRole: 'trainee' } as const
it.each<Line>([
  ['no help', { ...trainee, takeover: 'none' }, ['met', 'met']],
  ['help in words', { ...trainee, takeover: 'verbal' }, ['notMet', 'met']],
  ['a takeover', { ...trainee, takeover: 'hands-on' }, ['notMet', 'notMet']],
  ['nobody says', { ...trainee }, ['notRecorded', 'notRecorded']],
  ['not reached, and nobody says', { ...trainee, ...gaveUp('looping') }, ['notMet', 'notMet']],
  ['a role that nobody says', {}, ['eligibilityNotRecorded', 'eligibilityNotRecorded']],
])('a trainee: %s', (_, facts, expected) => {
  const ids = ['unassisted-caecal-intubation-rate-trainees', 'caecal-intubation-rate-without-takeover-trainees']
  expect(
    answers(
      ids.map((id) => `${id}-descriptive`),
      facts,
    ),
  ).toEqual(expected)
})

const resected = { earlierResection: true } as const
const atAnastomosis: Partial<TruthRow> = { ...resected, extent: 'anastomosis', photographs: ['anastomosis'] }
it.each<Line>([
  ['two', {}, ['met', 'met']],
  ['one', { photographs: ['ileocaecal-valve'] }, ['notMet', 'met']],
  ['an anastomosis where nobody names the part', atAnastomosis, ['excluded', 'excluded']],
  ['an anastomosis of the left', { ...atAnastomosis, resectedPart: 'left' }, ['notMet', 'notMet']],
  ['after a resection of the right', { ...resected, resectedPart: 'right' }, ['excluded', 'excluded']],
  ['discontinued', gaveUp('looping'), ['out', 'out']],
])('landmarks: %s', (_, facts, expected) => {
  expect(
    answers(
      ['2020', '2017'].map((year) => `landmark-photographs-us-government-${year}`),
      facts,
    ),
  ).toEqual(expected)
})

const { preparation: _scored, ...unscored } = plain
it.each<[grade: NonNullable<TruthRow['preparationGrade']>, readonly string[]]>([
  ['excellent', ['met', 'met', 'met']],
  ['good', ['met', 'met', 'met']],
  ['fair', ['met', 'notMet', 'notRecorded']],
  ['poor', ['notMet', 'notMet', 'notMet']],
])('a preparation that is graded and not scored: %s', (grade, expected) => {
  const row: TruthRow = { ...unscored, preparationGrade: grade }
  const ids = ['us-2015', 'eu-2017', 'uk-2016'].map((id) => `adequate-bowel-preparation-rate-${id}`)
  expect(ids.map((id) => truthAnswer(id, row).answer)).toEqual(expected)
})

const unclean: Partial<TruthRow> = { preparation: { kind: 'level', adequate: false } }
it.each<[string, Partial<TruthRow>, string]>([
  ['clean', {}, 'out'],
  ['twelve months', { ...unclean, advice: 'repeat-colonoscopy', advisedIntervalMonths: 12 }, 'met'],
  ['thirteen months', { ...unclean, advice: 'repeat-colonoscopy', advisedIntervalMonths: 13 }, 'notMet'],
  ['no interval', { ...unclean, advice: 'repeat-colonoscopy' }, 'notRecorded'],
  ['the clinic', { ...unclean, advice: 'clinic-review' }, 'notMet'],
  ['after symptoms', { ...unclean, reason: 'symptoms' }, 'out'],
])('a repeat within a year: %s', (_, facts, expected) => {
  expect(answers(['repeat-within-a-year-after-inadequate-preparation-us-2015'], facts)).toEqual([expected])
})

it.each<Line>([
  ['10 minutes', { insertionMinutes: 10 }, ['met', 'met', 'met']],
  ['15 minutes', { insertionMinutes: 15 }, ['notMet', 'met', 'met']],
  ['no time', {}, ['notRecorded', 'notRecorded', 'notRecorded']],
  ['not reached', gaveUp('looping'), ['notMet', 'notMet', 'out']],
])('insertion: %s', (_, facts, expected) => {
  const ids = ['caecum-reached-within-10-minutes', 'caecum-reached-within-15-minutes', 'insertion-time']
  expect(
    answers(
      ids.map((id) => `${id}-descriptive`),
      facts,
    ),
  ).toEqual(expected)
})

it('those who performed it and who supervised it in the room have it, each once', () => {
  const persons = (facts: Partial<TruthRow>) =>
    ['performed', 'supervised-in-the-room', 'performed-or-supervised'].map((what) =>
      truthPersons(`colonoscopies-${what}-${what === 'performed-or-supervised' ? 'uk-2016' : 'descriptive'}`, {
        ...plain,
        ...facts,
      }),
    )
  const supervisor = 'people|2'
  expect(persons({ supervisor, supervisorInRoom: true })).toEqual([
    ['people|1'],
    [supervisor],
    ['people|1', supervisor],
  ])
  expect(persons({ supervisor, supervisorInRoom: false })).toEqual([['people|1'], [undefined], ['people|1']])
})
