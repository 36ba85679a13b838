import type { Encounter } from 'fhir/r4'
import type { VisitPlan } from '../details/details.ts'
import type { Plan } from '../plan.ts'
import { systems } from '../region.ts'
import { coding, concept, refer } from './codes.ts'
import { moment } from './moment.ts'

/** Visits to a hospital after the examination. */
export function writeVisits(plan: Plan): Encounter[] {
  return (plan.details?.visits ?? []).map((visit, position): Encounter => {
    const { status, priority, fromEmergency } = visit
    return {
      resourceType: 'Encounter',
      id: `${plan.key}-visit-${position + 1}`,
      status,
      class: classOf(visit),
      ...(priority !== undefined && { priority: concept('encounterPriority', priority) }),
      subject: refer('Patient', plan.patient.id),
      period: { start: moment(plan, plan.day + visit.day, visit.minute) },
      ...(fromEmergency && { hospitalization: { admitSource: concept('admitSource', 'emd') } }),
    }
  })
}

const classOf = ({ class: code }: VisitPlan) =>
  code === 'unmapped'
    ? { system: systems.localVisits, code: 'DAYWARD', display: 'Day ward' }
    : coding('encounterClass', code)
