import { encounterClassOf, fact, type Resource } from './examination.ts'

/** A drug given during an examination, at two minutes past its start. */
export function given(
  drug: string,
  examinationId: string,
  facts: { id?: string; dose?: Resource; date?: string; more?: Resource },
): Resource {
  const { id = `${examinationId}-${drug}`, dose, date = '2026-03-10' } = facts
  return {
    resourceType: 'MedicationAdministration',
    id,
    status: 'completed',
    medicationCodeableConcept: fact(drug),
    subject: { reference: `Patient/patient-${examinationId}` },
    context: { reference: `Encounter/encounter-${examinationId}` },
    effectiveDateTime: `${date}T09:02:00Z`,
    ...(dose !== undefined && { dosage: { dose } }),
    ...facts.more,
  }
}

/** A later visit of the patient of an examination. */
export const visit = (
  examinationId: string,
  id: string,
  code: string,
  start: string,
  more: Resource = {},
): Resource => ({
  resourceType: 'Encounter',
  id,
  status: 'finished',
  class: encounterClassOf(code),
  subject: { reference: `Patient/patient-${examinationId}` },
  period: { start },
  ...more,
})

/** A condition of the patient of an examination. */
export const condition = (examinationId: string, id: string, code: Resource, more: Resource): Resource => ({
  resourceType: 'Condition',
  id,
  code,
  subject: { reference: `Patient/patient-${examinationId}` },
  ...more,
})
