import { expect } from 'vitest'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import type { Answer, AnswerCode } from '../../src/tally/answer.ts'
import type { Asked } from './ask.ts'

/** The measures at hand, by short names. */
export const measureIds = {
  us: 'adenoma-detection-rate-us-2024',
  uk: 'adenoma-detection-rate-uk-2016',
  perColonoscopy: 'adenomas-per-colonoscopy-descriptive',
  preparation: 'adequate-bowel-preparation-rate-us-2024',
  caecum: 'caecal-intubation-rate-uk-2016',
  caecumAdjusted: 'caecal-intubation-rate-adjusted-uk-2011',
  perforation: 'perforation-rate-30-day-descriptive',
  bleeding: 'post-polypectomy-bleeding-rate-30-day-descriptive',
  withdrawal: 'withdrawal-time-us-2024',
  intervalUs: 'advised-interval-agreement-us-2020',
  intervalEu: 'advised-interval-agreement-eu-2020',
  intervalUk: 'advised-interval-agreement-uk-2020',
  intervalAfterNormal: 'interval-after-normal-screening-us-government-2024',
  screeningAt86: 'screening-at-86-or-older-us-government-2024',
  attachedBefore: 'attachment-before-insertion-share-descriptive',
  attachmentAdded: 'attachment-added-later-share-descriptive',
  attachmentRemoved: 'attachment-removed-share-descriptive',
  attachmentLost: 'attachment-detached-share-descriptive',
  attachmentReinserted: 'attachment-reinserted-share-descriptive',
  attachmentCaution: 'attachment-with-recorded-caution-share-descriptive',
  attachmentWithheld: 'attachment-withheld-with-recorded-caution-share-descriptive',
  attachmentTrialExclusion: 'attachment-with-trial-exclusion-share-descriptive',
  attachmentLeftOn: 'attachment-left-on-after-finding-share-descriptive',
} as const
export type MeasureName = keyof typeof measureIds

/** Of what is there only what is expected to be told about, undefined where nothing is. */
function project(actual: unknown, expected: unknown): unknown {
  if (Array.isArray(expected) && Array.isArray(actual))
    return actual.map((one, index) => (index < expected.length ? project(one, expected[index]) : one))
  if (typeof expected !== 'object' || expected === null || typeof actual !== 'object' || actual === null) return actual
  return Object.fromEntries(
    Object.entries(expected).map(([name, value]) => [name, project((actual as Record<string, unknown>)[name], value)]),
  )
}

/** The facts of the only examination, whatever the order of its resources; undefined is *not recorded*. */
export function expectFacts(story: Asked, expected: Partial<Colonoscopy>): void {
  expect(project(story.only(), expected)).toEqual(expected)
  expect(story.inAnotherOrder()).toEqual(story.records)
}

/** The answers of the only examination, by code alone or with what they carry. */
export function expectAnswers(
  story: Asked,
  expected: Partial<Record<MeasureName, AnswerCode | Partial<Answer>>>,
): void {
  const asked = Object.entries(expected) as [MeasureName, AnswerCode | Partial<Answer>][]
  const given = asked.map(([name, one]) => {
    const answer = story.answer(measureIds[name])
    return [name, typeof one === 'string' ? answer.code : project(answer, one)]
  })
  expect(Object.fromEntries(given)).toEqual(expected)
}
