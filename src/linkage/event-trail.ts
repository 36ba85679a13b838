import type { Rung } from './rungs.ts'
import type { EventKind, ToldEvent } from './told-event.ts'
import type { Trail } from './trail.ts'

const fieldOf = { perforation: 'perforation', bleeding: 'bleeding', cardiopulmonary: 'cardiopulmonaryEvent' } as const

/**
 * Takes down what an event given to an examination tells.
 *
 * @param day undefined where it is not recorded
 */
export function noteEvent(trail: Trail, event: ToldEvent, kind: EventKind, day: number | undefined, rung: Rung): void {
  const { resource, element, severity } = event
  const field = fieldOf[kind]
  trail.note(field, resource, rung, element)
  if (day !== undefined) trail.note(`${field}Day`, resource, rung, element)
  if (severity !== undefined && field !== 'cardiopulmonaryEvent')
    trail.note(
      `${field}Severity`,
      resource,
      rung,
      severity === 'fatal' ? 'AdverseEvent.outcome' : `${String(resource.resourceType)}.severity`,
    )
  trail.note('eventCount', resource, rung, element)
  trail.note('events', resource, rung, element)
}
