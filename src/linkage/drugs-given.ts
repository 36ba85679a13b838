import { asObject, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { microgramsOf, rounded } from '../fhir/quantity.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Examination } from './examinations.ts'
import type { Told } from './reading.ts'

/** The drugs told apart, each by the value set of its name. */
export const drugs = [
  'midazolam',
  'fentanyl',
  'pethidine',
  'propofol',
  'other-sedative',
  'nitrous-oxide',
  'antispasmodic',
  'reversal-agent',
] as const
export type Drug = (typeof drugs)[number]

/** Sedatives and opioids. Nitrous oxide alone is no sedation, and takes away none of what else was given. */
export const sedatives: readonly Drug[] = ['midazolam', 'fentanyl', 'pethidine', 'propofol', 'other-sedative']

/** The field that tells of each drug; of other sedatives only that they were given. */
export const fieldOf: Readonly<Record<Drug, keyof Medication>> = {
  midazolam: 'midazolamMilligrams',
  fentanyl: 'fentanylMicrograms',
  pethidine: 'pethidineMilligrams',
  propofol: 'propofolMilligrams',
  'other-sedative': 'sedated',
  'nitrous-oxide': 'nitrousOxide',
  antispasmodic: 'antispasmodic',
  'reversal-agent': 'reversalAgent',
}

/** What is known of one drug. */
export interface Given {
  /** Some of it was given. */
  given: boolean
  /** Sum of the doses; undefined as soon as one of them cannot be read. */
  micrograms: number | undefined
  /** It may have been given: nothing says whether. */
  open: boolean
}

/** The record's facts of drugs. */
export type Medication = Pick<
  Colonoscopy,
  | 'sedated'
  | 'midazolamMilligrams'
  | 'fentanylMicrograms'
  | 'pethidineMilligrams'
  | 'propofolMilligrams'
  | 'nitrousOxide'
  | 'antispasmodic'
  | 'reversalAgent'
>

/** Adds one administration to what is known of its drug. */
export function addTo(sum: Given, drug: Drug, { resource, code, rung }: Told, { trail }: Examination): void {
  const field = fieldOf[drug]
  if (resource.status !== 'completed' && resource.status !== 'stopped') {
    sum.open = true
    trail?.cannotRead(field, resource, 'MedicationAdministration.status')
    return
  }
  const dosage = asObject(resource.dosage)
  const dose = microgramsOf(dosage?.dose)
  if (dose === 0) return
  sum.given = true
  if (sedatives.includes(drug)) trail?.note('sedated', resource, rung, medicationElement(resource))
  if (!hasDose(field)) {
    if (field !== 'sedated') trail?.note(field, resource, rung, medicationElement(resource))
    return
  }
  if (typeof dose !== 'number' || isMixture(code)) {
    sum.micrograms = undefined
    trail?.cannotRead(field, resource, doseElement(dosage))
    return
  }
  if (sum.micrograms !== undefined) sum.micrograms = rounded(sum.micrograms + dose)
  trail?.note(field, resource, rung, 'MedicationAdministration.dosage.dose')
}

const hasDose = (field: keyof Medication): boolean => field.endsWith('grams')

/** A product of two of the drugs has one dose, which is of neither. */
function isMixture({ sets }: Meaning): boolean {
  let named = 0
  for (const drug of drugs) if (sets.has(drug)) named++
  return named > 1
}

const medicationElement = (resource: Json): string =>
  resource.medicationReference === undefined
    ? 'MedicationAdministration.medicationCodeableConcept'
    : 'MedicationAdministration.medicationReference'

/** The element that stands where the dose is expected. */
function doseElement(dosage: Json | undefined): string {
  const standing = ['dose', 'rateQuantity', 'rateRatio', 'text'].find((name) => dosage?.[name] !== undefined)
  return `MedicationAdministration.dosage.${standing ?? 'dose'}`
}
