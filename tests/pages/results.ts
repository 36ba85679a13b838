import { clopperPearsonInterval } from '../../src/statistics/clopper-pearson-interval.ts'
import { wilsonInterval } from '../../src/statistics/wilson-interval.ts'
import type { AbsentReason, GroupResult, MeasureResult, Stratum } from '../../src/tally/result.ts'
import { publishedMeasure } from '../report/published-measure.ts'

/** Identifier system of the invented people. */
export const people = 'https://people.example/endoscopists'

/** A group with so many met of so many counted; nothing apart unless given. */
export function group(met: number, all: number, rest: Partial<GroupResult> = {}): GroupResult {
  return {
    settled: { initialPopulation: all, denominator: all, excluded: 0, excepted: 0, met, notMet: all - met },
    apart: {},
    score: met / all,
    interval: { ...wilsonInterval(met, all), method: 'Wilson' },
    besides: [],
    readBounds: false,
    ...rest,
  }
}

/** A group without a score. */
export const without = (absentBecause: AbsentReason, apart: GroupResult['apart'] = {}): GroupResult => ({
  settled: { initialPopulation: 0, denominator: 0, excluded: 0, excepted: 0, met: 0, notMet: 0 },
  apart,
  absentBecause,
  besides: [],
  readBounds: false,
})

const person = (value: string, of: GroupResult): Stratum => ({ ...of, key: `${people}|${value}` })

const apart: GroupResult['apart'] = {
  'eligibility-not-recorded': 9,
  'not-recorded': 21,
  pending: 14,
  'pending-already-met': 2,
  'later-met': 31,
  'later-not-met': 55,
  'exclusion-not-recorded': 6,
  out: 212,
  unattributed: 11,
}

/** An invented unit's half year: ten people of whom one has no settled examination, and eleven examinations without one. */
export const harbour: MeasureResult = {
  measure: publishedMeasure('adenoma-detection-rate-us-2024'),
  period: { start: '2026-01-01', end: '2026-06-30' },
  asOf: '2026-08-15T22:59:59.999Z',
  settledThrough: '2026-06-09',
  scope: { unit: { id: 'harbour', name: 'Harbour Unit', match: {} } },
  whole: {
    ...group(318, 846, { apart, besides: [17], bounds: { lower: 318 / 867, upper: 339 / 867 } }),
    settled: { initialPopulation: 992, denominator: 971, excluded: 125, excepted: 0, met: 318, notMet: 528 },
  },
  units: [],
  divisions: [],
  cases: [],
  practitioners: [
    person('HB-204', group(62, 141, { apart: { 'not-recorded': 2, pending: 3, 'later-met': 6, 'later-not-met': 9 } })),
    person('HB-118', group(51, 133, { apart: { 'not-recorded': 3, pending: 2 } })),
    person('HB-331', group(27, 118, { apart: { 'not-recorded': 1, pending: 2 } })),
    person('HB-077', group(49, 107)),
    person('HB-412', group(38, 98, { besides: [17] })),
    person(
      'HB-265',
      group(30, 84, {
        apart: { 'not-recorded': 12 },
        readBounds: true,
        bounds: { lower: 30 / 96, upper: 42 / 96 },
      }),
    ),
    person('HB-509', group(29, 71)),
    person('HB-150', group(21, 58)),
    person('HB-388', group(8, 25)),
    person('HB-601', without('nobody-eligible', { out: 4 })),
    group(3, 11),
  ],
  eventsKnownBy: [],
  leftOut: { 'date missing': 3 },
  incomplete: [],
  unitNames: { harbour: 'Harbour Unit' },
}

/** The same standard’s caecal intubation, over two units: two standard lines, all rates near the top. */
export const intubation: MeasureResult = {
  ...harbour,
  measure: publishedMeasure('caecal-intubation-rate-uk-2016'),
  scope: {},
  settledThrough: '2026-06-30',
  whole: group(1710, 1850),
  units: [{ ...group(1100, 1170), key: 'moor' }, { ...group(608, 677), key: 'harbour' }, group(2, 3)],
  practitioners: [
    person('HB-204', group(391, 411)),
    person('MR-019', group(502, 560)),
    person('MR-044', group(12, 12)),
  ],
  unitNames: { harbour: 'Harbour Unit', moor: 'Moor Hospital' },
}

/** Rare events: 2 of 3,000, none in most hands. */
export const perforation: MeasureResult = {
  ...harbour,
  measure: publishedMeasure('perforation-rate-30-day-descriptive'),
  settledThrough: '2026-06-30',
  whole: group(2, 3000, { interval: { ...clopperPearsonInterval(2, 3000), method: 'exact (Clopper-Pearson)' } }),
  practitioners: [
    person('HB-204', group(2, 1700, { interval: { ...clopperPearsonInterval(2, 1700), method: 'exact' } })),
    person('HB-118', group(0, 1300, { interval: { ...clopperPearsonInterval(0, 1300), method: 'exact' } })),
  ],
  eventsKnownBy: ['own-hospital'],
}

/** 3 July: nothing settled, 2 to 9 of 20 still possible. */
const { settledThrough: _, ...open } = harbour
export const unsettled: MeasureResult = {
  ...open,
  whole: {
    ...without('nothing-settled', { pending: 7, 'later-met': 2, 'later-not-met': 11 }),
    wholePeriodBounds: { lower: 0.1, upper: 0.45 },
  },
  practitioners: [person('HB-204', without('nothing-settled', { pending: 7, 'later-met': 2, 'later-not-met': 11 }))],
}
