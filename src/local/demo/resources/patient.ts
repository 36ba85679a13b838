import type { Condition, FhirResource } from 'fhir/r4'
import { dateOf } from '../calendar.ts'
import type { HistoryItem, PatientPlan } from '../plan.ts'
import { concept, fact, refer } from './codes.ts'

/** A patient without a name, and what was known of the patient and when. */
export function writePatient(patient: PatientPlan): FhirResource[] {
  return [
    {
      resourceType: 'Patient',
      id: patient.id,
      gender: patient.sex,
      ...(patient.birthDateWritten !== undefined && { birthDate: patient.birthDateWritten }),
    },
    ...patient.history.map((item, position) => writeHistory(patient, item, position)),
  ]
}

function writeHistory(patient: PatientPlan, item: HistoryItem, position: number): Condition {
  const colitis = ['64766004', '34000006', '24526004'][item.recordedDay % 3] ?? '24526004'
  return {
    resourceType: 'Condition',
    id: `${patient.id}-history-${position + 1}`,
    // A refuted condition may not carry a clinical status of its own.
    ...(item.stands
      ? {
          clinicalStatus: {
            coding: [{ system: 'http://terminology.hl7.org/CodeSystem/condition-clinical', code: 'active' }],
          },
        }
      : {}),
    verificationStatus: concept('verification', item.stands ? 'confirmed' : 'refuted'),
    code: item.kind === 'inflammatory-bowel-disease' ? concept('snomed', colitis) : fact(item.kind),
    subject: refer('Patient', patient.id),
    recordedDate: dateOf(item.recordedDay),
  }
}
