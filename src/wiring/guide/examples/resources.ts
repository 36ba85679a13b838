import type {
  CodeableConcept,
  Condition,
  MedicationAdministration,
  Observation,
  ObservationComponent,
  Procedure,
  Quantity,
  Reference,
} from 'fhir/r4'
import { factSystem } from '../../../fhir/canonical.ts'

/** A code of our own code system. */
export const ours = (code: string): CodeableConcept => ({ coding: [{ system: factSystem, code }] })
export const coded = (system: string, code: string): CodeableConcept => ({ coding: [{ system, code }] })
export const snomed = (code: string): CodeableConcept => coded('http://snomed.info/sct', code)
export const at = (reference: string): Reference => ({ reference })
export const quantity = (value: number, code: string): Quantity => ({
  value,
  unit: code,
  system: 'http://unitsofmeasure.org',
  code,
})

const subject = at('Patient/example-patient')
const partOf = [at('Procedure/example-colonoscopy')]

/** An observation of the example's colonoscopy. */
export const observation = (id: string, code: CodeableConcept, rest: Partial<Observation>): Observation => ({
  resourceType: 'Observation',
  id: `example-${id}`,
  status: 'final',
  code,
  subject,
  partOf,
  ...rest,
})

export const word = (code: string, value: string): ObservationComponent => ({
  code: ours(code),
  valueCodeableConcept: ours(value),
})
export const answer = (code: string, valueBoolean: boolean): ObservationComponent => ({
  code: ours(code),
  valueBoolean,
})

/** A sub-procedure of the example's colonoscopy. */
export const part = (id: string, code: CodeableConcept): Procedure => ({
  resourceType: 'Procedure',
  id: `example-${id}`,
  status: 'completed',
  code,
  subject,
  partOf,
})

/** A drug given for the example's colonoscopy. */
export const given = (id: string, drug: CodeableConcept, dose?: Quantity): MedicationAdministration => ({
  resourceType: 'MedicationAdministration',
  id: `example-${id}`,
  status: 'completed',
  medicationCodeableConcept: drug,
  subject,
  partOf,
  effectiveDateTime: '2026-03-10T09:01:00Z',
  ...(dose && { dosage: { dose } }),
})

/** A condition of the example's patient. */
export const condition = (id: string, code: CodeableConcept, rest: Partial<Condition>): Condition => ({
  resourceType: 'Condition',
  id: `example-${id}`,
  code,
  subject,
  ...rest,
})
