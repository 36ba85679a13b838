import type { DiagnosticReport, FhirResource, Observation, Procedure, Specimen } from 'fhir/r4'
import type { Plan } from '../plan.ts'
import { coding, concept, fact, histologyConcept, refer } from './codes.ts'
import { moment } from './moment.ts'

/** A gastroscopy in the same sitting, with biopsies of its own; one in four has an adenoma of the duodenum. */
export function writeGastroscopy(plan: Plan): FhirResource[] {
  if (!plan.form.gastroscopy) return []
  const key = `${plan.key}-upper`
  const subject = refer('Patient', plan.patient.id)
  const encounter = refer('Encounter', `${plan.key}-encounter`)
  const before = moment(plan, plan.day, plan.minute - 25)
  const gastroscopy: Procedure = {
    resourceType: 'Procedure',
    id: key,
    status: 'completed',
    code: concept('snomed', '76009000'),
    subject,
    encounter,
    performedPeriod: { start: before, end: moment(plan, plan.day, plan.minute - 8) },
  }
  const biopsy: Procedure = {
    resourceType: 'Procedure',
    id: `${key}-biopsy`,
    partOf: [refer('Procedure', key)],
    status: 'completed',
    code: fact('biopsy'),
    subject,
    encounter,
    performedDateTime: moment(plan, plan.day, plan.minute - 15),
  }
  const specimen: Specimen = {
    resourceType: 'Specimen',
    id: `${key}-jar`,
    type: concept('snomed', '122645001'),
    subject,
    collection: {
      collectedDateTime: moment(plan, plan.day, plan.minute - 14),
      bodySite: fact('upper-gastrointestinal-tract'),
    },
  }
  const result: Observation = {
    resourceType: 'Observation',
    id: `${key}-pathology-result`,
    status: 'final',
    code: concept('loinc', '34574-4'),
    subject,
    valueCodeableConcept: histologyConcept(plan.form.variant % 4 === 0 ? 'conventional-adenoma' : 'other', false, 0),
    specimen: refer('Specimen', specimen.id ?? ''),
  }
  const report: DiagnosticReport = {
    resourceType: 'DiagnosticReport',
    id: `${key}-pathology`,
    status: 'final',
    category: [{ coding: [coding('diagnosticService', 'SP')] }],
    code: concept('loinc', '11526-1'),
    subject,
    encounter,
    effectiveDateTime: moment(plan, plan.day + 6, 600),
    issued: moment(plan, plan.day + 6, 630),
    specimen: [refer('Specimen', specimen.id ?? '')],
    result: [refer('Observation', result.id ?? '')],
  }
  return [gastroscopy, biopsy, specimen, report, result]
}
