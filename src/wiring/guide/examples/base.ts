import type { DiagnosticReport, Encounter, FhirResource, Patient, Practitioner, Procedure } from 'fhir/r4'
import type { Source } from '../../../config.ts'
import type { Example } from './example.ts'
import { at, ours } from './resources.ts'

const subject = at('Patient/example-patient')
const encounter = at('Encounter/example-encounter')

/** An invented patient of an invented hospital, and one colonoscopy with its final report. */
export const base = {
  patient: {
    resourceType: 'Patient',
    id: 'example-patient',
    gender: 'female',
    birthDate: '1966-05-20',
  } satisfies Patient,
  practitioner: {
    resourceType: 'Practitioner',
    id: 'example-practitioner',
    identifier: [{ system: 'https://larkwater.example/staff', value: 'E-17' }],
  } satisfies Practitioner,
  encounter: {
    resourceType: 'Encounter',
    id: 'example-encounter',
    status: 'finished',
    class: { system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode', code: 'AMB' },
    subject,
    period: { start: '2026-03-10T08:30:00Z', end: '2026-03-10T11:00:00Z' },
  } satisfies Encounter,
  procedure: {
    resourceType: 'Procedure',
    id: 'example-colonoscopy',
    status: 'completed',
    code: { coding: [{ system: 'http://snomed.info/sct', code: '73761001', display: 'Colonoscopy' }] },
    subject,
    encounter,
    performedPeriod: { start: '2026-03-10T09:00:00Z', end: '2026-03-10T09:30:00Z' },
    performer: [{ function: ours('operator'), actor: at('Practitioner/example-practitioner') }],
    report: [at('DiagnosticReport/example-report')],
  } satisfies Procedure,
  report: {
    resourceType: 'DiagnosticReport',
    id: 'example-report',
    status: 'final',
    code: { coding: [{ system: 'http://loinc.org', code: '18746-8', display: 'Colonoscopy study' }] },
    subject,
    encounter,
    issued: '2026-03-10T10:00:00Z',
  } satisfies DiagnosticReport,
} as const

/** The source of the examples, as in SOURCES; nothing else is set. */
export const baseSource = {
  id: 'larkwater',
  baseUrl: 'https://fhir.larkwater.example/r4',
  zone: 'Europe/London',
} as const satisfies Partial<Source>

/** What the base fills by itself. */
export const ofBase: Example = {
  id: 'base',
  title: 'The base itself',
  gives: {
    procedure: 'Procedure/example-colonoscopy',
    source: 'larkwater',
    examinationDate: '2026-03-10',
    examinationMonth: '2026-03',
    startTime: '09:00',
    age: 59,
    sex: 'female',
    operator: 'larkwater/Practitioner/example-practitioner',
    operatorRole: 'independent',
    setting: 'outpatient',
    intent: 'complete',
    report: 'final',
    completion: 'completed',
    completionPhotographed: false,
    impassableStricture: false,
    stoppedForPreparation: false,
  },
}

/** The resources of an example: the base with its changes, then those it adds. */
export function resourcesOf({ changes = {}, resources = [] }: Example): FhirResource[] {
  return [
    { ...base.patient, ...changes.patient },
    base.practitioner,
    { ...base.encounter, ...changes.encounter },
    { ...base.procedure, ...changes.procedure },
    { ...base.report, ...changes.report },
    ...resources,
  ]
}
