import { expect } from 'vitest'
import type { AnswerCode } from '../../src/tally/answer.ts'
import type { Asked } from './ask.ts'

interface WhoItWas {
  /** What a removal of polyps makes of the measures among polypectomies. */
  readonly removed: 'not-met' | 'out' | 'eligibility-not-recorded'
  /** Neither is the answer of an examination of another reason. */
  readonly screening?: 'itself' | 'after-a-positive-test'
  /** Whether a sedative or an opioid was given; none unless told. */
  readonly sedated?: boolean
  /** Whether the mucosa was injured; nobody says, unless told. */
  readonly mucosalInjury?: AnswerCode
}

/**
 * The answers of an outpatient after whom nothing happened, under every measure of recorded harm. What is not counted in a
 * measure is out of it; in those it is counted in, the answer is no.
 */
export function expectNothingAfterwards(
  story: Asked,
  { removed, screening, sedated = false, mucosalInjury = 'not-recorded' }: WhoItWas,
): void {
  const isAny = screening === undefined ? 'out' : 'not-met'
  const isItself = screening === 'itself' ? 'not-met' : 'out'
  const isAfterTest = screening === 'after-a-positive-test' ? 'not-met' : 'out'
  const perforation = [7, 30].flatMap((days): [string, AnswerCode][] => [
    [`perforation-rate-${days}-day-descriptive`, 'not-met'],
    [`perforation-rate-${days}-day-us-2015`, 'not-met'],
    [`perforation-rate-${days}-day-uk-2016`, 'not-met'],
    [`perforation-rate-${days}-day-uk-screening-programme`, isAfterTest],
    [`perforation-rate-screening-${days}-day-descriptive`, isAny],
    [`perforation-rate-screening-${days}-day-us-2015`, isItself],
    [`perforation-rate-after-polypectomy-${days}-day-descriptive`, removed],
    [`perforation-rate-after-polypectomy-${days}-day-uk-2016`, removed],
  ])
  const bleeding = [7, 14, 30].flatMap((days): [string, AnswerCode][] => [
    [`post-polypectomy-bleeding-rate-${days}-day-descriptive`, removed],
    [`post-polypectomy-bleeding-rate-intermediate-or-worse-${days}-day-descriptive`, removed],
  ])
  const bleedingByStandard = [14, 30].flatMap((days): [string, AnswerCode][] => [
    [`post-polypectomy-bleeding-rate-${days}-day-us-2015`, removed],
    [`post-polypectomy-bleeding-rate-intermediate-or-worse-${days}-day-uk-2016`, removed],
    [
      `post-polypectomy-bleeding-rate-${days}-day-uk-screening-programme`,
      screening === 'after-a-positive-test' ? removed : 'out',
    ],
  ])
  const expected: Record<string, AnswerCode> = {
    ...Object.fromEntries([...perforation, ...bleeding, ...bleedingByStandard]),
    'cardiopulmonary-event-rate-1-day-descriptive': 'not-met',
    'cardiopulmonary-event-rate-sedated-1-day-descriptive': sedated ? 'not-met' : 'out',
    'unplanned-hospital-visit-rate-7-day-descriptive': 'not-met',
    'mucosal-injury-rate-descriptive': mucosalInjury,
    'death-within-30-days-elective-descriptive': 'out',
    'death-within-30-days-emergency-descriptive': 'out',
  }
  const given = Object.keys(expected).map((id) => [id, story.answer(id).code])
  expect(Object.fromEntries(given)).toEqual(expected)
}
