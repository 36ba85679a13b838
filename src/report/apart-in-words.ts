import type { AbsentReason, ApartReason } from '../tally/result.ts'

/** What each reason for standing apart means; the published CodeSystem carries the same words. */
export const apartInWords = {
  'eligibility-not-recorded': 'the record does not say whether the examination belongs to the measure',
  'not-recorded': 'in the denominator, but nothing in the record decides the outcome',
  pending: 'pending: histology or an event may still arrive',
  'pending-already-met': 'of the pending: the outcome is recorded already and can be reviewed now',
  'later-met': 'after the last settled day: met',
  'later-not-met': 'after the last settled day: not met',
  'later-excluded': 'after the last settled day: excluded',
  'later-excepted': 'after the last settled day: excepted',
  'later-not-recorded': 'after the last settled day: not recorded',
  'exclusion-not-recorded': 'kept in, though the record does not say whether an exclusion applies',
  out: 'outside the measure',
  'not-available': 'read from a source that does not send what the measure needs',
  unattributed: 'in the unit’s figures, but in no practitioner’s',
} as const satisfies Record<ApartReason, string>

/** Why there is no score, as a sentence. */
export const absentInWords = {
  'not-available': 'The source does not send what this measure needs.',
  'nothing-settled': 'No examination of the period is both eligible and settled yet.',
  'too-little-settled': 'Less than half of the eligible examinations of the period lie on settled days.',
  'nothing-recorded': 'The record does not decide the outcome of any examination of the period.',
  'nobody-eligible': 'No examination of the period is in the denominator.',
  'no-score': 'This measure is a count.',
} as const satisfies Record<AbsentReason, string>
