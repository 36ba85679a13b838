import { rounded } from '../fhir/quantity.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { addTo, type Drug, drugs, fieldOf, type Given, type Medication, sedatives } from './drugs-given.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Reading } from './reading.ts'
import type { Trail } from './trail.ts'

/**
 * Drugs given for the examination, and their doses: midazolam, pethidine and propofol in milligrams, fentanyl in micrograms.
 * Doses add up; where one has no amount of mass that can be read (volume, rate, bound, none) the sum is not recorded. A dose
 * of 0 was not given. What is not finished, or of which nothing says whether it was given, is no dose and leaves the drug
 * open.
 *
 * That a drug was not given is a fact only in a complete feed of medication, unless the report is preliminary, or a drug was
 * given that no code we know names.
 */
export function readMedication(
  examination: Examination,
  anaesthetistLed: boolean | undefined,
  report: Colonoscopy['report'],
  reading: Reading,
): Medication {
  const { medications } = examination
  const declared = reading.complete('medication') && report !== 'preliminary'
  const facts =
    medications.length === 0
      ? declared
        ? noneGiven(anaesthetistLed)
        : nothingRecorded(anaesthetistLed)
      : factsOf(examination, declared, anaesthetistLed)
  if (medications.length > 0) sawFeed(examination, 'medication')
  if (examination.trail) noteInferences(examination.trail, facts, anaesthetistLed, declared)
  return facts
}

const nothingRecorded = (anaesthetistLed: boolean | undefined): Medication => ({
  sedated: anaesthetistLed || undefined,
  midazolamMilligrams: undefined,
  fentanylMicrograms: undefined,
  pethidineMilligrams: undefined,
  propofolMilligrams: undefined,
  nitrousOxide: undefined,
  antispasmodic: undefined,
  reversalAgent: undefined,
})

const noneGiven = (anaesthetistLed: boolean | undefined): Medication => ({
  sedated: anaesthetistLed ?? false,
  midazolamMilligrams: 0,
  fentanylMicrograms: 0,
  pethidineMilligrams: 0,
  propofolMilligrams: 0,
  nitrousOxide: false,
  antispasmodic: false,
  reversalAgent: false,
})

function factsOf(examination: Examination, declared: boolean, anaesthetistLed: boolean | undefined): Medication {
  const given: Partial<Record<Drug, Given>> = {}
  let silent = declared
  for (const told of examination.medications) {
    let isNamed = told.code.fact === 'other'
    for (const drug of drugs) {
      if (!told.code.sets.has(drug)) continue
      isNamed = true
      given[drug] ??= { given: false, micrograms: 0, open: false }
      addTo(given[drug], drug, told, examination)
    }
    if (!isNamed) silent = false
  }
  const wasGiven = (drug: Drug): boolean | undefined => {
    const sum = given[drug]
    return sum?.given ? true : silent && !sum?.open ? false : undefined
  }
  const micrograms = (drug: Drug): number | undefined => {
    const sum = given[drug]
    return sum === undefined ? (silent ? 0 : undefined) : sum.open ? undefined : sum.micrograms
  }
  const milligrams = (drug: Drug): number | undefined => {
    const sum = micrograms(drug)
    return sum === undefined ? undefined : rounded(sum / 1000)
  }
  let sedated: boolean | undefined = anaesthetistLed || undefined
  for (const drug of sedatives) if (given[drug]?.given) sedated = true
  if (sedated === undefined && sedatives.every((drug) => wasGiven(drug) === false)) sedated = false
  return {
    sedated,
    midazolamMilligrams: milligrams('midazolam'),
    fentanylMicrograms: micrograms('fentanyl'),
    pethidineMilligrams: milligrams('pethidine'),
    propofolMilligrams: milligrams('propofol'),
    nitrousOxide: wasGiven('nitrous-oxide'),
    antispasmodic: wasGiven('antispasmodic'),
    reversalAgent: wasGiven('reversal-agent'),
  }
}

/** Takes down what rests on an absence, or on who led the sedation. */
function noteInferences(
  trail: Trail,
  facts: Medication,
  anaesthetistLed: boolean | undefined,
  declared: boolean,
): void {
  if (anaesthetistLed === true)
    trail.note('sedated', undefined, 'inferred from who led the sedation', 'Procedure.performer.function')
  if (!declared) return
  for (const field of new Set(Object.values(fieldOf)))
    if (isAbsence(facts[field]))
      trail.note(field, undefined, 'nothing found in a complete feed', 'MedicationAdministration')
}

const isAbsence = (fact: boolean | number | undefined): boolean => fact === false || fact === 0
