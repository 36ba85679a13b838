import type { CodeableConcept, Condition, FhirResource } from 'fhir/r4'
import { dateOf } from '../calendar.ts'
import type { HistoryItem, PatientPlan } from '../plan.ts'
import { coding, concept, fact, refer } from './codes.ts'

/** A patient without a name, a death, and what was known of the patient and when. */
export function writePatient(patient: PatientPlan): FhirResource[] {
  return [
    {
      resourceType: 'Patient',
      id: patient.id,
      gender: patient.sex,
      ...(patient.birthDateWritten !== undefined && { birthDate: patient.birthDateWritten }),
      ...(patient.death &&
        (patient.death.dated ? { deceasedDateTime: dateOf(patient.death.day) } : { deceasedBoolean: true })),
    },
    ...patient.history.map((item, position) => writeHistory(patient, item, position)),
  ]
}

function writeHistory(patient: PatientPlan, item: HistoryItem, position: number): Condition {
  const { stands, suspected, activity, onsetDay, endedDay, recordedDay } = item
  const inRemission = activity === 'quiescent' && recordedDay % 2 === 0
  const status = endedDay !== undefined ? 'inactive' : inRemission ? 'remission' : 'active'
  return {
    resourceType: 'Condition',
    id: `${patient.id}-history-${position + 1}`,
    // A refuted condition may not carry a clinical status of its own.
    ...(stands && { clinicalStatus: { coding: [coding('clinicalStatus', status)] } }),
    verificationStatus: concept('verification', !stands ? 'refuted' : suspected ? 'provisional' : 'confirmed'),
    ...(activity && !inRemission && { severity: fact(activity) }),
    code: codeOf(item),
    subject: refer('Patient', patient.id),
    ...(onsetDay !== undefined && { onsetDateTime: dateOf(onsetDay) }),
    ...(endedDay !== undefined && { abatementDateTime: dateOf(endedDay) }),
    recordedDate: dateOf(recordedDay),
  }
}

const parts = {
  right: 'right-hemicolectomy',
  transverse: 'transverse-resection',
  left: 'left-hemicolectomy',
  rectum: 'proctectomy',
} as const

/** Several codes where there are several; what has none elsewhere is said in words of the fact code system. */
function codeOf({ kind, part, past, recordedDay }: HistoryItem): CodeableConcept {
  const choose = (...codes: CodeableConcept[]) => codes[recordedDay % codes.length] ?? fact(kind)
  switch (kind) {
    case 'inflammatory-bowel-disease':
      return choose(...['64766004', '34000006', '24526004'].map((code) => concept('snomed', code)))
    case 'earlier-resection':
      return part === undefined ? fact(kind) : fact(parts[part])
    case 'antithrombotic-use':
      return choose(
        concept('snomed', '711150003'),
        concept('icd10cm', 'Z79.01'),
        concept('icd10cm', 'Z79.02'),
        fact(kind),
      )
    case 'colorectal-cancer':
      if (past) return concept('icd10cm', 'Z85.038')
      return choose(concept('snomed', '363406005'), concept('icd10cm', 'C18.7'), concept('snomed', '363351006'))
    default:
      return fact(kind)
  }
}
