import { expect } from 'vitest'
import type { AnswerCode } from '../../src/tally/answer.ts'
import type { Asked } from './ask.ts'

const siblingsOfUs = [
  'complete-and-prepared',
  'with-cancer',
  'with-traditional-serrated',
  'outpatients',
  'without-earlier-resection',
  'without-any-positive-test',
  'without-disease-first-seen',
] as const

interface Found {
  /** US 2024 and its siblings, and what these answer otherwise. */
  readonly us: AnswerCode
  readonly usBut?: Partial<Record<(typeof siblingsOfUs)[number], AnswerCode>>
  readonly eu: AnswerCode
  readonly euWithoutSurveillance?: AnswerCode
  /** UK screening programme, and US 2024 after a positive screening test. */
  readonly afterScreeningTest?: AnswerCode
  readonly afterAnyTest?: AnswerCode
  /** The two for primary screening: US government 2019 and US 2015. */
  readonly screening?: AnswerCode
  readonly us2015?: AnswerCode
  readonly sessileUs: AnswerCode
  /** Clinically significant and proximal serrated polyps. */
  readonly serrated: AnswerCode
  readonly polypsEu: AnswerCode
  readonly polyps: AnswerCode
  readonly perPositive: AnswerCode
  readonly optical: AnswerCode
  /** With a villous part counting, and without. */
  readonly advanced: AnswerCode
  readonly large: AnswerCode
  readonly proximal: AnswerCode
  readonly diminutive: AnswerCode
  readonly cancer: AnswerCode
}

/** The answers of the only examination under every measure of what was found, but the two that stories ask for by themselves. */
export function expectFound(story: Asked, found: Found): void {
  const { us, eu, afterScreeningTest = 'out', screening = 'out' } = found
  const expected: Record<string, AnswerCode> = {
    ...Object.fromEntries(
      siblingsOfUs.map((sibling) => [`adenoma-detection-rate-${sibling}-us-2024`, found.usBut?.[sibling] ?? us]),
    ),
    'adenoma-detection-rate-us-2024': us,
    'adenoma-detection-rate-eu-2017': eu,
    'adenoma-detection-rate-without-surveillance-eu-2017': found.euWithoutSurveillance ?? eu,
    'adenoma-detection-rate-uk-screening-programme': afterScreeningTest,
    'adenoma-detection-rate-after-positive-screening-test-us-2024': afterScreeningTest,
    'adenoma-detection-rate-after-any-positive-test-us-2024': found.afterAnyTest ?? afterScreeningTest,
    'adenoma-or-cancer-detection-rate-us-government-2019': screening,
    'adenoma-detection-rate-us-2015': found.us2015 ?? screening,
    'sessile-serrated-lesion-detection-rate-us-2024': found.sessileUs,
    'clinically-significant-serrated-detection-rate-descriptive': found.serrated,
    'proximal-serrated-polyp-detection-rate-splenic-flexure-boundary-descriptive': found.serrated,
    'proximal-serrated-polyp-detection-rate-sigmoid-boundary-descriptive': found.serrated,
    'polyp-detection-rate-eu-2017': found.polypsEu,
    'polyp-detection-rate-descriptive': found.polyps,
    'adenomas-per-positive-colonoscopy-descriptive': found.perPositive,
    'adenoma-detection-rate-with-optical-diagnosis-descriptive': found.optical,
    'advanced-adenoma-detection-rate-with-villous-descriptive': found.advanced,
    'advanced-adenoma-detection-rate-without-villous-descriptive': found.advanced,
    'adenoma-at-least-10-mm-detection-rate-descriptive': found.large,
    'proximal-adenoma-detection-rate-splenic-flexure-boundary-descriptive': found.proximal,
    'proximal-adenoma-detection-rate-sigmoid-boundary-descriptive': found.proximal,
    'diminutive-adenoma-detection-rate-descriptive': found.diminutive,
    'cancer-detection-rate-descriptive': found.cancer,
  }
  expect(Object.fromEntries(Object.keys(expected).map((id) => [id, story.answer(id).code]))).toEqual(expected)
}

/** Everything after histology, where none was taken or all of it says the same. */
export const everyKind = (answer: AnswerCode) => ({
  sessileUs: answer,
  serrated: answer,
  optical: answer,
  advanced: answer,
  large: answer,
  proximal: answer,
  diminutive: answer,
  cancer: answer,
})

/** A complete negative examination: no polyp, so no positive one to count adenomas in. */
export const nothingFound = {
  us: 'not-met',
  eu: 'not-met',
  polypsEu: 'not-met',
  polyps: 'not-met',
  perPositive: 'excluded',
  ...everyKind('not-met'),
} as const satisfies Found
