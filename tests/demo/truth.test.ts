import { describe, expect, it } from 'vitest'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { truthAnswer, truthMeasures, truthPersons } from '../../src/local/demo/truth.ts'
import { countTruth } from '../../src/local/demo/truth-counts.ts'
import type { TruthPolyp, TruthRow } from '../../src/local/demo/truth-row.ts'
import { plain } from './plain-row.ts'

const adenoma: TruthPolyp = {
  site: 'sigmoid',
  handling: 'removed',
  retrieval: 'retrieved',
  nature: 'conventional-adenoma',
}
const without = (row: TruthRow, ...names: (keyof TruthRow)[]): TruthRow =>
  Object.fromEntries(
    Object.entries(row).filter(([name]) => !names.includes(name as keyof TruthRow)),
  ) as unknown as TruthRow
const stoolInTheSigmoid: TruthRow = {
  ...plain,
  stopped: true,
  stopReason: 'inadequate-preparation',
  extent: 'sigmoid',
  photographs: [],
  preparation: { kind: 'segments', left: 0 },
}

// What each answer should be follows from the published definitions of the measures, one case each.
const cases: readonly (readonly [string, string, TruthRow, string])[] = [
  ['nothing found at screening', 'adenoma-detection-rate-us-2024', plain, 'notMet'],
  ['screening', 'adenoma-detection-rate-uk-2016', plain, 'out'],
  ['under 45', 'adenoma-detection-rate-us-2024', { ...plain, age: 44 }, 'out'],
  ['no age', 'adenoma-detection-rate-us-2024', without(plain, 'age'), 'eligibilityNotRecorded'],
  ['no reason', 'adenoma-detection-rate-us-2024', without(plain, 'reason'), 'eligibilityNotRecorded'],
  [
    'a positive screening test',
    'adenoma-detection-rate-us-2024',
    { ...plain, reason: 'positive-screening-test' },
    'excluded',
  ],
  ['colitis known before', 'adenoma-detection-rate-us-2024', { ...plain, inflammatoryBowelDisease: true }, 'excluded'],
  [
    'colitis known before',
    'adenoma-detection-rate-uk-2016',
    { ...plain, reason: 'surveillance', inflammatoryBowelDisease: true },
    'notMet',
  ],
  [
    'an adenoma',
    'adenoma-detection-rate-us-2024',
    { ...plain, polyps: [adenoma], pathology: 'final', confirmedAdenomas: 1 },
    'met',
  ],
  [
    'histology pending',
    'adenoma-detection-rate-us-2024',
    { ...plain, polyps: [adenoma], pathology: 'pending' },
    'pending',
  ],
  [
    'histology missing',
    'adenoma-detection-rate-us-2024',
    { ...plain, polyps: [adenoma], pathology: 'missing' },
    'notRecorded',
  ],
  [
    'a polyp not retrieved',
    'adenoma-detection-rate-us-2024',
    { ...plain, polyps: [{ ...adenoma, retrieval: 'not-retrieved' }] },
    'notMet',
  ],
  [
    'a polyp of which nothing is said',
    'adenoma-detection-rate-us-2024',
    { ...plain, polyps: [{ site: 'rectum', nature: 'other' }] },
    'notRecorded',
  ],
  ['an unfinished report', 'adenoma-detection-rate-us-2024', { ...plain, report: 'preliminary' }, 'pending'],
  ['the caecum photographed', 'caecal-intubation-rate-uk-2016', plain, 'met'],
  ['the caecum without a photograph', 'caecal-intubation-rate-uk-2016', { ...plain, photographs: [] }, 'notMet'],
  ['a limited examination', 'caecal-intubation-rate-uk-2016', { ...plain, intent: 'limited' }, 'out'],
  ['stopped for stool', 'caecal-intubation-rate-uk-2016', stoolInTheSigmoid, 'notMet'],
  ['stopped for stool', 'caecal-intubation-rate-adjusted-uk-2011', stoolInTheSigmoid, 'excluded'],
  [
    'stopped for stool, scores clean',
    'caecal-intubation-rate-adjusted-uk-2011',
    { ...stoolInTheSigmoid, preparation: { kind: 'segments', left: 3, transverse: 3 } },
    'notMet',
  ],
  [
    'stopped for discomfort',
    'caecal-intubation-rate-adjusted-uk-2011',
    { ...stoolInTheSigmoid, stopReason: 'discomfort', preparation: { kind: 'segments', left: 3 } },
    'notMet',
  ],
  [
    'stopped at a stricture',
    'caecal-intubation-rate-adjusted-uk-2011',
    { ...stoolInTheSigmoid, stopReason: 'impassable-stricture', preparation: { kind: 'segments', left: 3 } },
    'excluded',
  ],
  [
    'extent not recorded',
    'caecal-intubation-rate-adjusted-uk-2011',
    { ...without(plain, 'extent'), photographs: [] },
    'notRecorded',
  ],
  ['a photograph alone', 'caecal-intubation-rate-adjusted-uk-2011', without(plain, 'extent'), 'met'],
  ['each segment 3', 'adequate-bowel-preparation-rate-us-2024', plain, 'met'],
  [
    '3, 3 and 0',
    'adequate-bowel-preparation-rate-us-2024',
    { ...plain, preparation: { kind: 'segments', left: 3, transverse: 3, right: 0 } },
    'notMet',
  ],
  [
    'a total of 8',
    'adequate-bowel-preparation-rate-us-2024',
    { ...plain, preparation: { kind: 'total', total: 8 } },
    'met',
  ],
  [
    'a total of 6',
    'adequate-bowel-preparation-rate-us-2024',
    { ...plain, preparation: { kind: 'total', total: 6 } },
    'notRecorded',
  ],
  [
    'a total of 5',
    'adequate-bowel-preparation-rate-us-2024',
    { ...plain, preparation: { kind: 'total', total: 5 } },
    'notMet',
  ],
  [
    'stopped for stool, nothing scored',
    'adequate-bowel-preparation-rate-us-2024',
    without(stoolInTheSigmoid, 'preparation'),
    'notMet',
  ],
  ['nothing scored', 'adequate-bowel-preparation-rate-us-2024', without(plain, 'preparation'), 'notRecorded'],
  ['an inpatient', 'adequate-bowel-preparation-rate-us-2024', { ...plain, setting: 'inpatient' }, 'out'],
  ['a polyp removed', 'withdrawal-time-us-2024', { ...plain, polyps: [adenoma], pathology: 'final' }, 'out'],
  [
    'a polyp left',
    'withdrawal-time-us-2024',
    { ...plain, polyps: [{ site: 'rectum', handling: 'left', nature: 'hyperplastic' }] },
    'met',
  ],
  ['no time', 'withdrawal-time-us-2024', without(plain, 'withdrawalMinutes'), 'notRecorded'],
  ['resected before', 'withdrawal-time-us-2024', { ...plain, earlierResection: true }, 'excluded'],
  ['perforated on day 30', 'perforation-rate-30-day-descriptive', { ...plain, perforationDay: 30 }, 'met'],
  ['perforated on day 31', 'perforation-rate-30-day-descriptive', { ...plain, perforationDay: 31 }, 'notMet'],
  ['no polyp removed', 'post-polypectomy-bleeding-rate-30-day-descriptive', plain, 'out'],
  [
    'bleeding on day 31',
    'post-polypectomy-bleeding-rate-30-day-descriptive',
    { ...plain, polyps: [adenoma], bleedingDay: 31 },
    'notMet',
  ],
  [
    'bleeding on day 12',
    'post-polypectomy-bleeding-rate-30-day-descriptive',
    { ...plain, polyps: [adenoma], bleedingDay: 12 },
    'met',
  ],
]

describe('truthAnswer', () => {
  it.each(cases)('%s, %s', (_, measure, row, answer) => {
    expect(truthAnswer(measure, row).answer).toBe(answer)
  })

  it('observes minutes and adenomas', () => {
    expect(truthAnswer('withdrawal-time-us-2024', plain)).toEqual({ answer: 'met', value: 9 })
    const two: TruthRow = { ...plain, polyps: [adenoma, adenoma], pathology: 'final', confirmedAdenomas: 2 }
    expect(truthAnswer('adenomas-per-colonoscopy-descriptive', two)).toEqual({ answer: 'met', value: 2 })
  })

  it('refuses a measure that it does not know', () => {
    expect(() => truthAnswer('polyp-detection-rate', plain)).toThrow(RangeError)
  })
})

describe('countTruth', () => {
  const { truth } = generateDemo()
  const period = { start: '2025-01-01', end: '2026-06-30' }
  const examinations = truth.filter(({ kind }) => kind === 'examination')
  const answers = [
    'met',
    'notMet',
    'excluded',
    'excepted',
    'notRecorded',
    'pending',
    'eligibilityNotRecorded',
    'out',
  ] as const

  it.each(truthMeasures)(
    '%s: every examination has one answer, and units add up to the whole, and people where it counts for one each',
    (measure) => {
      const whole = countTruth(truth, measure, period, 'whole').get('')
      expect(answers.reduce((sum, answer) => sum + (whole?.[answer] ?? 0), 0)).toBe(examinations.length)
      // Of a unit alone no person has a row; what is performed or supervised counts for two.
      const forOneEach = examinations.every((row) => truthPersons(measure, row).length === 1)
      for (const by of forOneEach ? (['unit', 'practitioner'] as const) : (['unit'] as const)) {
        const groups = [...countTruth(truth, measure, period, by).values()]
        for (const answer of answers)
          expect(groups.reduce((sum, group) => sum + group[answer], 0)).toBe(whole?.[answer])
      }
    },
  )

  it('counts months as it counts the half-year', () => {
    const measure = 'adenoma-detection-rate-us-2024'
    const months = ['01', '02', '03', '04', '05', '06'].map((month) => ({
      start: `2026-${month}-01`,
      end: `2026-${month}-31`,
    }))
    const met = months.map((one) => countTruth(truth, measure, one, 'whole').get('')?.met ?? 0)
    const half = countTruth(truth, measure, { start: '2026-01-01', end: '2026-06-30' }, 'whole').get('')
    expect(met.reduce((sum, one) => sum + one, 0)).toBe(half?.met)
  })
})
