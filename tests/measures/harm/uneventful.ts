import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'

/** An outpatient's colonoscopy after a positive screening test, a polyp removed under sedation, and nothing happened: all of it recorded. */
export const uneventful = {
  procedure: 'Procedure/1',
  source: 'northmoor',
  operator: 'operator-1',
  age: 60,
  setting: 'outpatient',
  report: 'final',
  referralReason: 'positive-screening-test',
  polypRemoved: true,
  sedated: true,
  reversalAgent: false,
  anaesthetistLed: false,
  mucosalInjury: false,
  eventCount: 0,
  events: [],
  perforation: false,
  bleeding: false,
  cardiopulmonaryEvent: false,
  hospitalVisitCount: 0,
  visits: [],
  unplannedVisit: false,
  death: false,
} as const satisfies Colonoscopy

/** Facts that differ from those; undefined takes one away. */
export type Facts = Partial<Colonoscopy>

export const followedBy = (facts: Facts): Colonoscopy => ({ ...uneventful, ...facts })

/** Measures of one kind of event, with their windows in days. */
export const perforationMeasures = (['', 'screening-', 'after-polypectomy-'] as const).flatMap((who) =>
  [7, 30].flatMap((days) =>
    [
      `perforation-rate-${who}${days}-day-descriptive`,
      ...(who === '' ? [`perforation-rate-${days}-day-uk-screening-programme`] : []),
      ...(who === 'after-polypectomy-' ? [] : [`perforation-rate-${who}${days}-day-us-2015`]),
      ...(who === 'screening-' ? [] : [`perforation-rate-${who}${days}-day-uk-2016`]),
    ].map((id) => ({ id, days })),
  ),
)
export const bleedingMeasures = [
  ...[7, 14, 30].map((days) => ({ id: `post-polypectomy-bleeding-rate-${days}-day-descriptive`, days })),
  ...[14, 30].flatMap((days) =>
    ['uk-screening-programme', 'us-2015'].map((standard) => ({
      id: `post-polypectomy-bleeding-rate-${days}-day-${standard}`,
      days,
    })),
  ),
]
export const worseBleedingMeasures = [
  ...[7, 14, 30].map((days) => ({
    id: `post-polypectomy-bleeding-rate-intermediate-or-worse-${days}-day-descriptive`,
    days,
  })),
  ...[14, 30].map((days) => ({
    id: `post-polypectomy-bleeding-rate-intermediate-or-worse-${days}-day-uk-2016`,
    days,
  })),
]
