import type { GroupResult, MeasureResult, Stratum } from '../../src/tally/result.ts'
import { publishedMeasure } from './published-measure.ts'

/** Identifier system of the invented people. */
export const people = 'https://people.example/endoscopists'

const settled = (counts: Partial<GroupResult['settled']>): GroupResult['settled'] => ({
  initialPopulation: 0,
  denominator: 0,
  excluded: 0,
  excepted: 0,
  met: 0,
  notMet: 0,
  ...counts,
})

const nothing: GroupResult = {
  settled: settled({}),
  apart: {},
  absentBecause: 'nobody-eligible',
  besides: [],
  readBounds: false,
}

/**
 * 81 of 263: the interval is that of Newcombe, Stat Med 1998;17:857-872, Table I, method 3 (Wilson).
 * 263 met or not met and 20 excluded make a denominator of 283; bounds with 12 not recorded: 81/275 and 93/275.
 */
const main: GroupResult = {
  settled: settled({ initialPopulation: 295, denominator: 283, excluded: 20, met: 81, notMet: 182 }),
  apart: { 'not-recorded': 12, pending: 7, 'pending-already-met': 1, out: 40, 'exclusion-not-recorded': 3 },
  score: 81 / 263,
  interval: { lower: 0.2553, upper: 0.3662, method: 'Wilson' },
  bounds: { lower: 81 / 275, upper: 93 / 275 },
  wholePeriodBounds: { lower: 81 / 282, upper: 100 / 282 },
  besides: [2],
  readBounds: false,
}

const first: Stratum = {
  key: `${people}|ab-1`,
  settled: settled({ initialPopulation: 260, denominator: 250, excluded: 18, met: 75, notMet: 157 }),
  apart: { 'not-recorded': 10 },
  score: 75 / 232,
  interval: { lower: 0.2664, upper: 0.3859, method: 'Wilson' },
  bounds: { lower: 75 / 242, upper: 85 / 242 },
  besides: [],
  readBounds: false,
}

const second: Stratum = {
  ...nothing,
  key: 'north/Practitioner/7',
  settled: settled({ initialPopulation: 33, denominator: 31, excluded: 2, met: 6, notMet: 23 }),
  apart: { 'not-recorded': 2, pending: 7 },
  absentBecause: 'too-little-settled',
  bounds: { lower: 6 / 31, upper: 8 / 31 },
  besides: [],
  readBounds: true,
}

const unattributed: Stratum = {
  settled: settled({ initialPopulation: 2, denominator: 2, met: 0, notMet: 2 }),
  apart: {},
  score: 0,
  interval: { lower: 0, upper: 0.6576, method: 'Wilson' },
  besides: [],
  readBounds: false,
}

export const detection: MeasureResult = {
  measure: publishedMeasure('adenoma-detection-rate-us-2024'),
  period: { start: '2026-01-01', end: '2026-06-30' },
  asOf: '2026-08-15T23:59:59.999Z',
  settledThrough: '2026-06-16',
  scope: {},
  whole: main,
  units: [
    { ...main, key: 'coast' },
    { ...unattributed, apart: { unattributed: 2 } },
  ],
  practitioners: [first, second, unattributed],
  divisions: publishedMeasure('adenoma-detection-rate-us-2024')
    .stratifiers.filter(({ id }) => id !== 'unit' && id !== 'practitioner')
    .map((stratifier) => ({
      stratifier,
      cells: [
        { ...main, keys: stratifier.dimensions.map((dimension) => (dimension === 'sex' ? 'female' : dimension)) },
        { ...unattributed, keys: stratifier.dimensions.map(() => undefined) },
      ],
    })),
  cases: [],
  eventsKnownBy: [],
  leftOut: { 'date missing': 3, 'same date twice & <unclear>': 1 },
  incomplete: [],
  unitNames: { coast: 'Coast <& Hills> "Unit"' },
}

/** One unit of a source that sends no pathology: no figure, never 0 %. */
export const notAvailable: MeasureResult = {
  ...detection,
  scope: { unit: { id: 'coast', name: 'Coast & Hills', match: {} } },
  whole: { ...nothing, apart: { 'not-available': 400 }, absentBecause: 'not-available' },
  units: [{ ...nothing, key: 'coast', apart: { 'not-available': 400 }, absentBecause: 'not-available' }],
  practitioners: [],
  divisions: [],
  leftOut: {},
  incomplete: ['coast: Specimen could not be searched by patient.'],
}

/** One practitioner, nothing settled: 2 met, 11 not met and 7 pending on later days give bounds of 10 to 45 %. */
const { settledThrough: _, ...unsettledDetection } = detection
export const unsettled: MeasureResult = {
  ...unsettledDetection,
  asOf: '2026-07-03T10:00:00+01:00',
  scope: { practitioner: `${people}|ab-1` },
  whole: {
    ...nothing,
    apart: { pending: 7, 'later-met': 2, 'later-not-met': 11 },
    absentBecause: 'nothing-settled',
    wholePeriodBounds: { lower: 2 / 20, upper: 9 / 20 },
  },
  units: [],
  practitioners: [],
  divisions: [],
  leftOut: {},
}

/** 30 adenomas in 60 colonoscopies; one colonoscopy more was excluded. */
export const adenomas: MeasureResult = {
  ...detection,
  measure: publishedMeasure('adenomas-per-colonoscopy-descriptive'),
  whole: {
    settled: settled({ initialPopulation: 61, denominator: 61, excluded: 1, met: 60, notMet: 0, valueSum: 30 }),
    apart: {},
    score: 0.5,
    interval: { lower: 0.31, upper: 0.69, method: 'ratio of sums, clustered by examination' },
    besides: [],
    readBounds: false,
  },
  units: [],
  practitioners: [],
  divisions: [],
}

/** 40 times that sum to 330.5 minutes: mean 8.2625. */
export const withdrawal: MeasureResult = {
  ...detection,
  measure: publishedMeasure('withdrawal-time-us-2024'),
  whole: {
    settled: settled({ initialPopulation: 50, denominator: 45, excluded: 5, met: 40, notMet: 0, valueSum: 330.5 }),
    apart: { 'not-recorded': 4, out: 5 },
    score: 8.2625,
    interval: { lower: 7.6, upper: 8.9, method: 'mean, Student t' },
    besides: [],
    readBounds: true,
  },
  units: [],
  practitioners: [],
  divisions: [],
}

/** 1 of 40, exact interval 0.06 to 13.16 %: Clopper and Pearson, Biometrika 1934;26:404-413. */
export const perforation: MeasureResult = {
  ...detection,
  measure: publishedMeasure('perforation-rate-30-day-descriptive'),
  settledThrough: '2026-06-30',
  whole: {
    settled: settled({ initialPopulation: 40, denominator: 40, met: 1, notMet: 39 }),
    apart: {},
    score: 0.025,
    interval: { lower: 0.0006, upper: 0.1316, method: 'Clopper-Pearson' },
    besides: [],
    readBounds: false,
  },
  units: [],
  practitioners: [],
  divisions: [],
  eventsKnownBy: ['own-hospital'],
}

export const results = { detection, notAvailable, unsettled, adenomas, withdrawal, perforation }
