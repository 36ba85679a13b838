import { expect } from 'vitest'
import type { AnswerCode } from '../../src/tally/answer.ts'
import type { Asked } from './ask.ts'

interface Course {
  readonly reason: 'screening' | 'surveillance' | 'positive-screening-test' | 'another'
  /** Whether the end was reached and photographed, or the examination stopped before it. */
  readonly reached?: boolean
  readonly prepared?: AnswerCode
  /** What the means of withdrawal time make of it: out where something was taken. */
  readonly withdrawal?: AnswerCode
  /** Answers that differ from an outpatient's whose times, comfort, ileum and retroflexion nobody wrote down. */
  readonly but?: Readonly<Record<string, AnswerCode>>
}

/**
 * The answers of an independent operator's outpatient under every measure of completion, times, preparation and recording. The two
 * of US 2024 and of UK 2016 and 2011 that stories ask for by themselves are not repeated.
 */
export function expectCourse(
  story: Asked,
  { reason, reached = true, prepared = 'met', withdrawal = 'out', but = {} }: Course,
): void {
  const end: AnswerCode = reached ? 'met' : 'not-met'
  const of = (answer: AnswerCode, ...reasons: Course['reason'][]): AnswerCode =>
    reasons.includes(reason) ? answer : 'out'
  const isTimed: AnswerCode = reached ? 'not-recorded' : 'not-met'
  const withdrawalIsRecorded: AnswerCode = withdrawal === 'met' ? 'met' : 'not-met'
  const expected: Record<string, AnswerCode> = {
    'caecal-intubation-rate-eu-2017': end,
    'caecal-intubation-rate-us-2024': end,
    'caecal-intubation-rate-aga-2021': of(end, 'screening', 'surveillance'),
    'caecal-intubation-rate-uk-screening-programme': of(end, 'positive-screening-test'),
    'caecal-intubation-rate-adjusted-us-2015': end,
    'caecal-intubation-rate-adjusted-screening-us-2015': of(end, 'screening'),
    'caecal-intubation-rate-without-proof-descriptive': end,
    'unassisted-caecal-intubation-rate-trainees-descriptive': 'out',
    'caecal-intubation-rate-without-takeover-trainees-descriptive': 'out',
    'completion-after-incomplete-examination-descriptive': 'out',
    'landmark-photographs-us-government-2020': reached ? of('met', 'screening', 'surveillance') : 'out',
    'landmark-photographs-us-government-2017': reached ? of('met', 'screening', 'surveillance') : 'out',
    'ileum-entered-of-attempted-descriptive': 'eligibility-not-recorded',
    'ileum-entered-of-all-descriptive': isTimed,
    'rectal-retroflexion-rate-uk-2016': 'not-recorded',
    'rectal-retroflexion-of-attempted-descriptive': 'eligibility-not-recorded',
    'insertion-time-descriptive': reached ? 'not-recorded' : 'out',
    'caecum-reached-within-10-minutes-descriptive': isTimed,
    'caecum-reached-within-15-minutes-descriptive': isTimed,
    'withdrawal-time-uk-2016': withdrawal,
    'withdrawal-time-eu-2017': withdrawal,
    'withdrawal-time-resections-kept-us-2024': withdrawal,
    'withdrawal-time-no-lesion-seen-us-2024': withdrawal,
    'withdrawal-time-aga-2021': of(withdrawal, 'screening', 'surveillance'),
    'withdrawal-time-us-2015': of(withdrawal, 'screening'),
    'withdrawal-time-uk-screening-programme': of(withdrawal, 'positive-screening-test'),
    'adequate-bowel-preparation-rate-uk-2016': prepared,
    'adequate-bowel-preparation-rate-outpatients-uk-2016': prepared,
    'adequate-bowel-preparation-rate-eu-2017': prepared,
    'adequate-bowel-preparation-rate-us-2015': prepared,
    'adequate-bowel-preparation-rate-us-task-force-2025': prepared,
    'adequate-bowel-preparation-rate-all-settings-us-2024': prepared,
    'adequate-bowel-preparation-rate-aga-2021': of(prepared, 'screening', 'surveillance'),
    'adequate-bowel-preparation-rate-uk-screening-programme': of(prepared, 'positive-screening-test'),
    'repeat-within-a-year-after-inadequate-preparation-us-2015': 'out',
    'withdrawal-time-recorded-us-2015': reached ? withdrawalIsRecorded : 'out',
    'comfort-recorded-descriptive': 'not-met',
    'comfort-recorded-uk-screening-programme': of('not-met', 'positive-screening-test'),
    'preparation-recorded-descriptive': 'met',
    'photographs-recorded-descriptive': reached ? 'met' : 'out',
    'pathology-recorded-descriptive': 'met',
    'colonoscopies-performed-descriptive': 'met',
    'colonoscopies-performed-or-supervised-uk-2016': 'met',
    'colonoscopies-supervised-in-the-room-descriptive': 'out',
    'days-from-positive-test-descriptive': of('not-recorded', 'positive-screening-test'),
    ...but,
  }
  const given = Object.keys(expected).map((id) => [id, story.answer(id).code])
  expect(Object.fromEntries(given)).toEqual(expected)
}
