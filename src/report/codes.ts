import type { CodeableConcept } from 'fhir/r4'
import { canonicalBase } from '../fhir/canonical.ts'
import type { AbsentReason } from '../tally/result.ts'

export const ucum = 'http://unitsofmeasure.org'
export const populationSystem = 'http://terminology.hl7.org/CodeSystem/measure-population'
export const improvementSystem = 'http://terminology.hl7.org/CodeSystem/measure-improvement-notation'

/** Code systems of ours, published under `measures/`. */
export const stratumSystem = `${canonicalBase}/CodeSystem/stratum`

export type PopulationCode =
  | 'initial-population'
  | 'denominator'
  | 'denominator-exclusion'
  | 'denominator-exception'
  | 'numerator'
  | 'measure-population'
  | 'measure-population-exclusion'
  | 'measure-observation'

/** The stratifiers of every report, and the strata of examinations of which what they divide by is not recorded. */
export const stratumWords = {
  unit: 'Unit',
  practitioner: 'Practitioner',
  month: 'Month',
  'referral-reason': 'Referral reason',
  sex: 'Sex',
  'age-band': 'Age band',
  attachment: 'Distal attachment',
  'not-recorded': 'Not recorded',
  'unit-unassigned': 'Unit not assigned',
  unattributed: 'Not attributed to a practitioner',
} as const
export type StratumWord = keyof typeof stratumWords

export const isStratumWord = (word: string): word is StratumWord => Object.hasOwn(stratumWords, word)

export const concept = (system: string, code: string): CodeableConcept => ({ coding: [{ system, code }] })

export const stratumConcept = (word: StratumWord): CodeableConcept => ({
  coding: [{ system: stratumSystem, code: word, display: stratumWords[word] }],
  text: stratumWords[word],
})

/** Our reason for an absent score, in the nearest word of FHIR's required `data-absent-reason` value set. */
export const dataAbsentReason = {
  'not-available': 'unsupported',
  'nothing-settled': 'temp-unknown',
  'too-little-settled': 'temp-unknown',
  'nothing-recorded': 'unknown',
  'nobody-eligible': 'not-applicable',
  'no-score': 'not-applicable',
} as const satisfies Record<AbsentReason, string>
