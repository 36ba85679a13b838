import type {
  CodeableConcept,
  DiagnosticReport,
  Encounter,
  FhirResource,
  Procedure,
  ProcedurePerformer,
  ServiceRequest,
} from 'fhir/r4'
import { dateOf, londonTime } from '../calendar.ts'
import type { Plan } from '../plan.ts'
import { followUpOf } from './advice.ts'
import { concept, fact, refer } from './codes.ts'
import { devicesOf } from './devices.ts'
import { moment } from './moment.ts'
import { practitionerId, roleId } from './people.ts'

/** Encounter, order, Procedure and endoscopy report of one examination. */
export function writeExamination(plan: Plan): FhirResource[] {
  const order = plan.unit.id === 'quernford' ? [writeOrder(plan)] : []
  const encounter = plan.form.encounter ? [writeEncounter(plan)] : []
  const report = plan.row.report ? [writeReport(plan, plan.row.report)] : []
  const copy = plan.form.copy ? [writeCopy(plan)] : []
  return [...encounter, ...order, writeProcedure(plan), ...report, ...copy]
}

const classes = { outpatient: 'AMB', inpatient: 'IMP', emergency: 'EMER' } as const

export function writeEncounter(plan: Plan): Encounter {
  const { unit, row, form, key } = plan
  const setting = row.setting ?? 'outpatient'
  const days = setting === 'inpatient' ? 3 : 0
  const reads = (person: string) => ({ individual: refer('Practitioner', practitionerId(person, unit.id)) })
  const performing = {
    coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType', code: 'PPRF' }],
  }
  const attending = { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType', code: 'ATND' }] }
  const participant =
    unit.id !== 'quernford'
      ? []
      : form.performer === 'two-people'
        ? ['HM-1110', 'HM-1111'].map((number) => ({ type: [performing], ...reads(number) }))
        : [
            ...(form.variant < 20 ? [{ type: [attending], ...reads('HM-1104') }] : []),
            { type: [performing], ...reads(plan.person.number) },
          ]
  return {
    resourceType: 'Encounter',
    id: `${key}-encounter`,
    status: 'finished',
    class: { system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode', code: classes[setting] },
    subject: refer('Patient', plan.patient.id),
    ...(participant.length > 0 && { participant }),
    period: {
      start: moment(plan, plan.day - days, plan.minute - 40),
      end: moment(plan, plan.day + days, plan.minute + 150),
    },
    ...(unit.id === 'tarnhollow' &&
      form.unitStated && { location: [{ location: refer('Location', 'room-tarnhollow') }] }),
    ...(unit.id === 'quernford' && form.unitStated && { serviceProvider: refer('Organization', 'org-quernford') }),
  }
}

function writeOrder(plan: Plan): ServiceRequest {
  const reasonCode = reasons(plan)
  return {
    resourceType: 'ServiceRequest',
    id: `${plan.key}-order`,
    status: 'completed',
    intent: 'order',
    code: concept('localProcedures', 'COL-1'),
    subject: refer('Patient', plan.patient.id),
    authoredOn: dateOf(plan.day - 14),
    ...(reasonCode.length > 0 && { reasonCode }),
  }
}

function writeProcedure(plan: Plan): Procedure {
  const { unit, row, form, key } = plan
  const ordered = unit.id === 'quernford'
  const reasonCode = ordered || form.reasonBy === 'procedure-code' ? [] : reasons(plan)
  const performer = ordered ? whoInAStay(plan) : performers(plan)
  const perforated = plan.events.some(({ form }) => form === 'complication-code')
  const followUp = followUpOf(plan)
  const details = plan.events.filter(({ form }) => form === 'condition-as-complication')
  return {
    resourceType: 'Procedure',
    id: key,
    ...(ordered && { basedOn: [refer('ServiceRequest', `${key}-order`)] }),
    status: row.stopped ? 'stopped' : 'completed',
    ...(row.stopReason !== undefined && { statusReason: stopReason(plan, row.stopReason) }),
    code: procedureCode(plan),
    subject: refer('Patient', plan.patient.id),
    ...(form.encounter && { encounter: refer('Encounter', `${key}-encounter`) }),
    ...performed(plan),
    ...(performer.length > 0 && { performer }),
    ...(unit.id === 'ellenby' && form.unitStated && { location: refer('Location', 'room-ellenby') }),
    ...(reasonCode.length > 0 && { reasonCode }),
    ...(row.report && unit.id !== 'tarnhollow' && { report: [refer('DiagnosticReport', `${key}-report`)] }),
    ...(perforated && { complication: [concept('snomed', '303078007')] }),
    ...(details.length > 0 && { complicationDetail: [refer('Condition', `${key}-event`)] }),
    ...devicesOf(plan),
    ...(followUp.length > 0 && { followUp }),
  }
}

function reasons(plan: Plan): CodeableConcept[] {
  const text = plan.details?.reasonText
  if (text !== undefined) return [{ text }]
  const stated = plan.form.reasons.map((reason) =>
    reason === 'screening' && plan.form.reasonBy === 'icd' ? concept('icd10cm', 'Z12.11') : fact(reason),
  )
  return plan.details?.diarrhoeaCoded ? [...stated, fact('chronic-diarrhoea')] : stated
}

function stopReason(plan: Plan, reason: string): CodeableConcept {
  return reason === 'inadequate-preparation' && plan.form.variant < 50 ? concept('snomed', '413261003') : fact(reason)
}

/** A code that says polypectomy is written only where a polyp was removed. */
function procedureCode(plan: Plan): CodeableConcept {
  const { unit, row, form } = plan
  const removed = row.polyps.some(({ handling }) => handling === 'removed')
  if (unit.id === 'quernford') return concept('localProcedures', removed && form.variant < 60 ? 'COL-2' : 'COL-1')
  if (unit.id === 'tarnhollow') {
    if (form.variant < 15) return concept('opcs', 'H22.9')
    return concept(form.variant < 25 ? 'snomedOid' : 'snomed', '73761001')
  }
  if (form.reasonBy === 'procedure-code') return concept('snomed', '444783004')
  return concept('snomed', removed && form.variant < 30 ? '446521004' : '73761001')
}

function performed(plan: Plan): Pick<Procedure, 'performedDateTime' | 'performedPeriod'> {
  const start = moment(plan, plan.day, plan.minute)
  if (plan.form.date === 'day') return { performedDateTime: dateOf(plan.day) }
  if (plan.form.date === 'moment') return { performedDateTime: start }
  return { performedPeriod: { start, end: moment(plan, plan.day, plan.minute + plan.length) } }
}

/** A stay in which a gastroscopy was done too names people of both: there the examination says itself who performed it. */
function whoInAStay({ row, form, person, unit }: Plan): ProcedurePerformer[] {
  if (row.setting !== 'inpatient' || !form.gastroscopy || form.performer !== 'person') return []
  return [{ actor: refer('Practitioner', practitionerId(person.number, unit.id)) }]
}

function performers(plan: Plan): ProcedurePerformer[] {
  const { unit, person, supervisor, form } = plan
  if (form.performer === 'organisation') return [{ actor: refer('Organization', `org-${unit.id}`) }]
  const actor = (number: string) =>
    unit.id === 'tarnhollow'
      ? refer('PractitionerRole', roleId(number))
      : refer('Practitioner', practitionerId(number, unit.id))
  const anaesthetist = plan.details?.anaesthetist
  const asleep = anaesthetist ? [{ function: fact('anaesthetist'), actor: actor(anaesthetist) }] : []
  if (supervisor === undefined) return [{ function: fact('operator'), actor: actor(person.number) }, ...asleep]
  const watching = plan.row.supervisorInRoom ? 'supervisor-in-room' : 'supervisor-not-in-room'
  return [
    { function: fact('operator-in-training'), actor: actor(person.number) },
    { function: fact(watching), actor: actor(supervisor) },
    ...asleep,
  ]
}

function writeReport(plan: Plan, status: 'preliminary' | 'final'): DiagnosticReport {
  return {
    resourceType: 'DiagnosticReport',
    id: `${plan.key}-report`,
    status,
    code: concept('loinc', '18746-8'),
    subject: refer('Patient', plan.patient.id),
    ...(plan.form.encounter && { encounter: refer('Encounter', `${plan.key}-encounter`) }),
    effectiveDateTime: moment(plan, plan.day, plan.minute),
    issued: moment(plan, plan.day, plan.minute + plan.length + 20),
    ...(plan.details?.calledNormal && { conclusionCode: [concept('snomed', '313170008')] }),
  }
}

/** The same examination once more, as an import from elsewhere left it: less said, nothing hung on it. */
function writeCopy(plan: Plan): Procedure {
  const { start, end } = { start: plan.minute + (plan.form.variant % 3) * 4, end: plan.minute + plan.length }
  return {
    resourceType: 'Procedure',
    id: `${plan.key}-copy`,
    status: 'completed',
    code: concept('snomed', '73761001'),
    subject: refer('Patient', plan.patient.id),
    performedPeriod: { start: londonTime(plan.day, start), end: londonTime(plan.day, end) },
  }
}
