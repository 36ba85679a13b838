import type { FhirResource, Specimen } from 'fhir/r4'
import type { Plan } from '../plan.ts'
import { concept, refer } from './codes.ts'
import { moment } from './examination.ts'

export const specimenId = (plan: Plan, jar: number): string => `${plan.key}-jar-${jar + 1}`

/** One Specimen per jar; in the unit with orders it names the order. */
export function writeSpecimens(plan: Plan): FhirResource[] {
  return plan.jars.map(
    (_, position): Specimen => ({
      resourceType: 'Specimen',
      id: specimenId(plan, position),
      type: concept('snomed', '122645001'),
      subject: refer('Patient', plan.patient.id),
      ...(plan.unit.id === 'quernford' && { request: [refer('ServiceRequest', `${plan.key}-order`)] }),
      collection: { collectedDateTime: moment(plan, plan.day, plan.minute + 15) },
    }),
  )
}
