import { eventKinds } from '../record/afterwards.ts'
import type { Colonoscopy, RecordedEvent } from '../record/colonoscopy.ts'
import type { EventDay } from './event-causes.ts'
import type { Events } from './found-events.ts'
import type { EventKind } from './told-event.ts'
import type { Trail } from './trail.ts'

type EventFacts = Pick<
  Colonoscopy,
  | 'eventCount'
  | 'events'
  | 'perforation'
  | 'perforationDay'
  | 'perforationSeverity'
  | 'bleeding'
  | 'bleedingDay'
  | 'bleedingSeverity'
  | 'cardiopulmonaryEvent'
  | 'cardiopulmonaryEventDay'
>

/**
 * The record's facts of the events given to one examination. All tellings of one kind are one event, so an examination has
 * at most one of each.
 *
 * The number is 0 only where silence means none, and not recorded while any event is undecided or of a kind that no code we
 * know names: such a one leaves every kind open.
 *
 * @param events undefined where nothing was told
 * @param complete whether the source declares that it sends every event
 */
export function eventFacts(events: Events | undefined, complete: boolean, trail?: Trail): EventFacts {
  const { perforation, bleeding, cardiopulmonary } = events?.of ?? {}
  const list = listOf(events)
  const count = list === undefined ? undefined : list.length > 0 || complete ? list.length : undefined
  const facts = {
    eventCount: count,
    events: count === undefined ? undefined : list,
    perforation: eventFact(perforation?.day, complete),
    perforationDay: dayNumber(perforation?.day),
    perforationSeverity: perforation?.severity,
    bleeding: eventFact(bleeding?.day, complete),
    bleedingDay: dayNumber(bleeding?.day),
    bleedingSeverity: bleeding?.severity,
    cardiopulmonaryEvent: eventFact(cardiopulmonary?.day, complete),
    cardiopulmonaryEventDay: dayNumber(cardiopulmonary?.day),
  }
  if (trail) noteAbsence(trail, facts)
  return facts
}

function noteAbsence(trail: Trail, facts: EventFacts): void {
  for (const field of ['eventCount', 'events', 'perforation', 'bleeding', 'cardiopulmonaryEvent'] as const) {
    const fact = facts[field]
    if (fact === false || fact === 0 || (Array.isArray(fact) && fact.length === 0))
      trail.note(field, undefined, 'nothing found in a complete feed', 'AdverseEvent')
  }
}

/** The events in order of kind; undefined while any is undecided or of an unknown kind. */
function listOf(events: Events | undefined): RecordedEvent[] | undefined {
  if (events === undefined) return []
  if (events.unknownKind) return undefined
  const list: RecordedEvent[] = []
  for (const kind of eventKinds) {
    const outcome = events.of[kind]
    if (outcome?.day === 'undecided') return undefined
    if (outcome) list.push(recorded(kind, outcome.day, outcome.severity))
  }
  return list
}

const recorded = (kind: EventKind, day: EventDay, severity: RecordedEvent['severity']): RecordedEvent => ({
  kind,
  severity,
  day: dayNumber(day),
})

/** True with a recorded event, dated or not; false only where silence means none, and nothing is undecided. */
const eventFact = (day: EventDay | undefined, complete: boolean): boolean | undefined =>
  day === 'undecided' ? undefined : day !== undefined ? true : complete ? false : undefined

const dayNumber = (day: EventDay | undefined): number | undefined => (typeof day === 'number' ? day : undefined)
