import type { Polyp } from '../../../src/record/colonoscopy.ts'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { type Facts, sized } from './examined.ts'

type Reason = NonNullable<Facts['referralReason']>
type Class = NonNullable<Polyp['histology']>

/** What a measure of detection asks, as the published definition or, where it leaves that open, the choice in the file says. */
export interface Expected {
  readonly id: string
  /** Youngest age that counts. */
  readonly floor: number
  /** What an examination that would be met answers, by its referral reason. */
  readonly reasons: Readonly<Record<Reason | 'not recorded', AnswerCode>>
  /** Facts, by name below, that take an examination out; every other one is kept. */
  readonly excluding: readonly string[]
  /** Facts that put it outside the denominator. */
  readonly outside?: readonly string[]
  /** A polyp that counts. */
  readonly polyp: Polyp
  /** Classes that count, were the same polyp of that class. */
  readonly classes: readonly Class[]
}

/** Facts on which standards differ. */
export const circumstances: Readonly<Record<string, Facts>> = {
  'bowel disease known before': { inflammatoryBowelDisease: true },
  'bowel disease first seen that day': { inflammatoryBowelDiseaseSeen: true },
  'hereditary syndrome': { hereditarySyndrome: true },
  'referred for a known lesion': { referredForKnownLesion: true },
  'earlier resection': { earlierResection: true },
  'earlier cancer': { earlierColorectalCancer: true },
  'earlier adenoma': { earlierAdenoma: true },
  'cancer of a relative': { familyHistoryOfColorectalCancer: true },
  'earlier colonoscopy': { monthsSinceLastColonoscopy: 60 },
  inpatient: { setting: 'inpatient' },
  emergency: { setting: 'emergency' },
  'caecum not reached': { caecumReached: false },
  'stopped for stool': { stoppedForPreparation: true },
  'a Boston segment below 2': { segmentsAllAtLeast2: false },
  'stated inadequate': {
    preparationScale: 'stated-level',
    segmentsAllAtLeast2: undefined,
    preparationLevel: 'inadequate',
  },
}

const reasons = (
  met: readonly Reason[],
  excluded: readonly Reason[],
  none: AnswerCode = 'eligibility-not-recorded',
): Expected['reasons'] => {
  const all: readonly Reason[] = [
    'known-lesion',
    'site-check',
    'positive-screening-test',
    'surveillance',
    'symptoms-positive-test',
    'symptoms',
    'screening',
  ]
  const answer = (reason: Reason): AnswerCode =>
    met.includes(reason) ? 'met' : excluded.includes(reason) ? 'excluded' : 'out'
  return { ...Object.fromEntries(all.map((reason) => [reason, answer(reason)])), 'not recorded': none } as never
}

const large = sized(25, { site: 'caecum', handling: 'removed', dysplasia: 'low-grade', villous: false })
const small = sized(4, { site: 'rectum', handling: 'removed', dysplasia: 'low-grade', villous: false })
const adenoma: Pick<Expected, 'polyp' | 'classes'> = { polyp: small, classes: ['conventional-adenoma'] }
const known = ['bowel disease known before', 'hereditary syndrome', 'referred for a known lesion']
const lesions: readonly Reason[] = ['known-lesion', 'site-check']
const diagnostic: readonly Reason[] = ['screening', 'surveillance', 'symptoms', 'symptoms-positive-test']

// US 2024: screening, surveillance and diagnostic pooled, 45 or more; positive screening tests apart; known lesions, bowel
// disease and syndromes excluded (guideline digest, read).
const us2024 = {
  floor: 45,
  reasons: reasons(diagnostic, ['positive-screening-test', ...lesions]),
  excluding: known,
  ...adenoma,
}
// EU 2017: screening and diagnostic, 50 or more, positive tests not separated, emergencies out (all from memory).
const eu2017 = {
  floor: 50,
  reasons: reasons([...diagnostic, 'positive-screening-test'], lesions),
  excluding: [...known, 'inpatient', 'emergency'],
  ...adenoma,
}
// A choice: all adults, as adenomas per colonoscopy.
const everyone = {
  floor: 18,
  reasons: reasons([...diagnostic, 'positive-screening-test'], lesions, 'met'),
  excluding: known,
}
const ofLarge = { ...everyone, polyp: large, classes: ['conventional-adenoma'] } as const
const serrated = {
  ...everyone,
  polyp: large,
  classes: ['hyperplastic', 'sessile-serrated-lesion', 'traditional-serrated-adenoma'],
} as const
const all: readonly Class[] = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
  'cancer',
  'other',
]

export const expected: readonly Expected[] = [
  { id: 'adenoma-detection-rate-us-2024', ...us2024 },
  {
    id: 'adenoma-detection-rate-complete-and-prepared-us-2024',
    ...us2024,
    excluding: [...known, 'caecum not reached', 'stopped for stool', 'a Boston segment below 2', 'stated inadequate'],
  },
  {
    id: 'adenoma-detection-rate-with-cancer-us-2024',
    ...us2024,
    classes: ['conventional-adenoma', 'cancer'],
  },
  {
    id: 'adenoma-detection-rate-with-traditional-serrated-us-2024',
    ...us2024,
    classes: ['conventional-adenoma', 'traditional-serrated-adenoma'],
  },
  { id: 'adenoma-detection-rate-outpatients-us-2024', ...us2024, outside: ['inpatient', 'emergency'] },
  {
    id: 'adenoma-detection-rate-without-earlier-resection-us-2024',
    ...us2024,
    excluding: [...known, 'earlier resection'],
  },
  {
    id: 'adenoma-detection-rate-without-any-positive-test-us-2024',
    ...us2024,
    reasons: reasons(
      ['screening', 'surveillance', 'symptoms'],
      ['positive-screening-test', 'symptoms-positive-test', ...lesions],
    ),
  },
  {
    id: 'adenoma-detection-rate-without-disease-first-seen-us-2024',
    ...us2024,
    excluding: [...known, 'bowel disease first seen that day'],
  },
  { id: 'adenoma-detection-rate-eu-2017', ...eu2017 },
  {
    id: 'adenoma-detection-rate-without-surveillance-eu-2017',
    ...eu2017,
    reasons: reasons(
      ['screening', 'symptoms', 'symptoms-positive-test', 'positive-screening-test'],
      ['surveillance', ...lesions],
    ),
  },
  // UK 2016: the workload outside screening, adults, nothing else taken out (table, read; the age from memory).
  {
    id: 'adenoma-detection-rate-uk-2016',
    floor: 18,
    reasons: reasons([...lesions, 'surveillance', 'symptoms-positive-test', 'symptoms'], []),
    excluding: [],
    ...adenoma,
  },
  // The programme's standard is for positive tests (table, read); no age is stated there.
  {
    id: 'adenoma-detection-rate-uk-screening-programme',
    floor: 0,
    reasons: reasons(['positive-screening-test'], []),
    excluding: [],
    ...adenoma,
  },
  // Clinical quality measure 343 of 2019: screening, 50 or more, adenoma or cancer (specification, read).
  {
    id: 'adenoma-or-cancer-detection-rate-us-government-2019',
    floor: 50,
    reasons: reasons(['screening'], []),
    excluding: [],
    polyp: small,
    classes: ['conventional-adenoma', 'cancer'],
  },
  {
    id: 'adenoma-detection-rate-after-positive-screening-test-us-2024',
    floor: 45,
    reasons: reasons(['positive-screening-test'], []),
    excluding: known,
    ...adenoma,
  },
  {
    id: 'adenoma-detection-rate-after-any-positive-test-us-2024',
    floor: 45,
    reasons: reasons(['positive-screening-test', 'symptoms-positive-test'], []),
    excluding: known,
    ...adenoma,
  },
  // US 2015: first screening at average risk, 50 or more (from memory).
  {
    id: 'adenoma-detection-rate-us-2015',
    floor: 50,
    reasons: reasons(['screening'], []),
    excluding: [
      ...known,
      'earlier cancer',
      'earlier adenoma',
      'cancer of a relative',
      'earlier colonoscopy',
      'inpatient',
      'emergency',
    ],
    ...adenoma,
  },
  { id: 'sessile-serrated-lesion-detection-rate-us-2024', ...us2024, classes: ['sessile-serrated-lesion'] },
  { id: 'clinically-significant-serrated-detection-rate-descriptive', ...serrated },
  { id: 'proximal-serrated-polyp-detection-rate-splenic-flexure-boundary-descriptive', ...serrated },
  { id: 'proximal-serrated-polyp-detection-rate-sigmoid-boundary-descriptive', ...serrated },
  { id: 'polyp-detection-rate-eu-2017', ...eu2017, classes: all },
  { id: 'polyp-detection-rate-descriptive', ...everyone, polyp: small, classes: all },
  { id: 'adenomas-per-positive-colonoscopy-descriptive', ...everyone, ...adenoma },
  { id: 'advanced-adenoma-detection-rate-with-villous-descriptive', ...ofLarge },
  { id: 'advanced-adenoma-detection-rate-without-villous-descriptive', ...ofLarge },
  { id: 'adenoma-at-least-10-mm-detection-rate-descriptive', ...ofLarge },
  { id: 'proximal-adenoma-detection-rate-splenic-flexure-boundary-descriptive', ...ofLarge },
  { id: 'proximal-adenoma-detection-rate-sigmoid-boundary-descriptive', ...ofLarge },
  { id: 'adenoma-detection-rate-with-optical-diagnosis-descriptive', ...everyone, ...adenoma },
  { id: 'diminutive-adenoma-detection-rate-descriptive', ...everyone, ...adenoma },
  { id: 'cancer-detection-rate-descriptive', ...everyone, polyp: small, classes: ['cancer'] },
]
