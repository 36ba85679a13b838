import type { AdverseEvent, Condition, FhirResource } from 'fhir/r4'
import { dateOf } from '../calendar.ts'
import { eventDate } from '../events.ts'
import type { EventPlan, Plan } from '../plan.ts'
import type { Severity } from '../truth-details.ts'
import { concept, fact, refer } from './codes.ts'

/** What came afterwards, as Conditions, AdverseEvents, or both for one event. */
export function writeEvents(plan: Plan): FhirResource[] {
  const { cardiopulmonary } = plan.details ?? {}
  const others = cardiopulmonary ? [writeCardiopulmonary(plan, cardiopulmonary.severity)] : []
  return [...plan.events.flatMap((event) => writeEvent(plan, event)), ...others]
}

function writeCardiopulmonary(plan: Plan, severity: Severity | undefined): AdverseEvent {
  return {
    resourceType: 'AdverseEvent',
    id: `${plan.key}-cardiopulmonary`,
    actuality: 'actual',
    event: fact('cardiopulmonary-event'),
    subject: refer('Patient', plan.patient.id),
    date: dateOf(plan.day),
    ...(severity && { severity: concept('severity', severity) }),
    suspectEntity: [{ instance: refer('Procedure', plan.key) }],
  }
}

function writeEvent(plan: Plan, event: EventPlan): FhirResource[] {
  switch (event.form) {
    case 'condition':
    case 'condition-as-complication':
      return [condition(plan, event)]
    case 'adverse-event':
      return [adverseEvent(plan, event, { linked: true })]
    case 'adverse-event-unlinked':
      return [adverseEvent(plan, event, { linked: false })]
    case 'condition-and-adverse-event':
      return [condition(plan, event), adverseEvent(plan, event, { linked: true })]
    case 'complication-code':
      return []
    case 'controlled-at-once':
      return [adverseEvent(plan, event, { linked: true, serious: false })]
    case 'near-miss':
      return [adverseEvent(plan, event, { linked: true, actual: false })]
  }
}

function condition(plan: Plan, event: EventPlan): Condition {
  const snomed = event.kind === 'bleeding' ? '95540002' : '303078007'
  return {
    resourceType: 'Condition',
    id: `${plan.key}-event`,
    verificationStatus: concept('verification', 'confirmed'),
    code: plan.form.variant < 50 ? concept('snomed', snomed) : fact(event.kind),
    subject: refer('Patient', plan.patient.id),
    onsetDateTime: eventDate(plan, event),
    recordedDate: eventDate(plan, event),
  }
}

function adverseEvent(
  plan: Plan,
  event: EventPlan,
  how: { readonly linked: boolean; readonly serious?: boolean; readonly actual?: boolean },
): AdverseEvent {
  const { linked, serious = true, actual = true } = how
  return {
    resourceType: 'AdverseEvent',
    id: `${plan.key}-adverse-event`,
    actuality: actual ? 'actual' : 'potential',
    event: fact(event.kind),
    subject: refer('Patient', plan.patient.id),
    date: eventDate(plan, event),
    seriousness: concept('seriousness', serious ? 'Serious' : 'Non-serious'),
    ...(plan.details?.severity && { severity: concept('severity', plan.details.severity) }),
    ...(linked && { suspectEntity: [{ instance: refer('Procedure', plan.key) }] }),
  }
}
