import type { CodeableConcept, FhirResource, Observation } from 'fhir/r4'
import { plannedDate } from '../details/advice.ts'
import type { WrittenAdvice } from '../details/details.ts'
import type { Plan } from '../plan.ts'
import { concept, fact, refer } from './codes.ts'
import { interval } from './components.ts'
import { term } from './local-terms.ts'
import { moment } from './moment.ts'
import { observation } from './observations.ts'

/** Advice about the next examination as resources of its own: observations, or an order for it. */
export function writeAdvice(plan: Plan): FhirResource[] {
  const { details, day, minute, length } = plan
  const advice = details?.advice
  if (!advice) return []
  const { first, amended, how } = advice
  if (how === 'order') return [writeOrder(plan, first)]
  if (how !== 'observation') return []
  return [
    writeObservation(plan, 'advice', first, moment(plan, day, minute + length + 10)),
    ...(amended
      ? [
          {
            ...writeObservation(plan, 'advice-amended', amended, moment(plan, amended.day, 720)),
            status: 'amended' as const,
          },
        ]
      : []),
  ]
}

function writeObservation(plan: Plan, name: string, { advice, months }: WrittenAdvice, issued: string): Observation {
  const component = interval(plan.unit.id, months)
  return {
    ...observation(plan, name, fact('advice'), { valueCodeableConcept: fact(advice) }),
    issued,
    ...(component.length > 0 && { component }),
  }
}

function writeOrder(plan: Plan, { months = 0 }: WrittenAdvice): FhirResource {
  const { key, patient, day, minute, length } = plan
  return {
    resourceType: 'ServiceRequest',
    id: `${key}-next`,
    status: 'active',
    intent: 'order',
    code: concept('snomed', '73761001'),
    subject: refer('Patient', patient.id),
    encounter: refer('Encounter', `${key}-encounter`),
    occurrenceDateTime: plannedDate(day, months),
    authoredOn: moment(plan, day, minute + length + 5),
  }
}

/** Advice that stands in the procedure itself: a code of the unit's own, or a sentence. */
export function followUpOf({ unit, details }: Plan): CodeableConcept[] {
  const advice = details?.advice
  if (advice?.how === 'follow-up') return [term(unit.id, advice.first.advice)]
  return advice?.how === 'text' ? [{ text: 'Follow-up as discussed' }] : []
}
