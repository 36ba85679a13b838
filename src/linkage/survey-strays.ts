import type { Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { LinkContext } from './context.ts'
import type { Examination } from './examinations.ts'
import { dateIn, keysIn } from './gathering.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { Survey } from './survey.ts'

/**
 * Takes down what no reader of an examination ever meets: records of patients who did not come, orders of encounters that did not
 * come, and procedures whose code nobody knows, any of which may be a colonoscopy.
 */
export function surveyStrays(
  reading: Reading,
  ladder: Ladder,
  patientKey: PatientKey,
  context: LinkContext,
  survey: Survey,
): void {
  const { resources, codes, procedures } = reading
  const isOfNobody = ({ subject }: Json): boolean => {
    const patient = patientKey(subject)
    return patient === undefined || (ladder.ofPatient(patient).length === 0 && resources.at(patient) === undefined)
  }
  const tell = (what: string, resource: Json, isLost: boolean) => {
    if (isLost) survey.unlinked(what, resource)
    else survey.linked(resource, what)
  }
  for (const condition of resources.ofType('Condition'))
    if (codes.of(condition.code) !== unknownMeaning)
      tell('Condition of a patient who did not come', condition, isOfNobody(condition))
  for (const encounter of resources.ofType('Encounter'))
    tell('Encounter of a patient who did not come', encounter, isOfNobody(encounter))
  for (const order of resources.ofType('ServiceRequest')) {
    if (!codes.in(order.code, 'colonoscopy')) continue
    const encounter = referenceKey(order.encounter)
    const isAstray = encounter === undefined || resources.at(encounter) === undefined
    tell('ServiceRequest for a colonoscopy', order, isOfNobody(order) || (isAstray && !isBasis(order, ladder)))
  }
  for (const { resource, code } of procedures)
    if (code.sets.has('earlier-resection') || code.sets.has('pelvic-surgery-or-radiotherapy'))
      tell('Procedure of a patient who did not come', resource, isOfNobody(resource))
  // Those of other times are history; of one of the window's own a dead end tells.
  for (const { owned, patient, lead } of ladder.examinations)
    if (!owned) tell('Procedure of a patient who did not come', lead, resources.at(patient) === undefined)
  for (const dose of resources.ofType('MedicationAdministration'))
    if (ladder.direct(keysIn(dose.partOf)[0]) === undefined && isOfNobody(dose))
      survey.unlinked('MedicationAdministration to a patient who did not come', dose)
  for (const event of resources.ofType('AdverseEvent'))
    tell('AdverseEvent of a patient who did not come', event, isOfNobody(event))
  missProcedures(reading, ladder, patientKey, context, survey)
}

const isBasis = (order: Json, { examinations }: Ladder): boolean =>
  examinations.some(({ orders }) => orders.includes(ownKey(order) ?? ''))

/**
 * Codes of procedures that nobody knows: once each by the window that holds their day; those of other times once for each of
 * their patients' examinations, before which they may have been an operation.
 */
function missProcedures(
  { procedures, source }: Reading,
  ladder: Ladder,
  patientKey: PatientKey,
  { window, period = window }: LinkContext,
  survey: Survey,
): void {
  for (const { resource, code } of procedures) {
    // What is part of another is listed where it is gathered.
    if (code !== unknownMeaning || keysIn(resource.partOf).some((key) => ladder.direct(key))) continue
    const patient = patientKey(resource.subject)
    const date = dateIn(resource.performedPeriod ?? resource.performedDateTime, source.zone)
    if (date === undefined) {
      survey.unlinked('Procedure without a day and without a code that is known', resource)
      continue
    }
    if (date >= window.start && date <= window.end) survey.missed('Procedure.code', resource.code, patient)
    else if (date < period.start || date > period.end)
      for (const _ of ladder.ofPatient(patient).filter(isOwned)) survey.missed('Procedure.code', resource.code, patient)
  }
}

const isOwned = ({ owned }: Examination): boolean => owned
