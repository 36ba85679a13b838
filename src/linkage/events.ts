import type { Codes } from '../fhir/codes.ts'
import { daysBetween, type Moment, readMoment } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { LinkContext, Resources } from './context.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { isRefuted } from './gather.ts'
import type { Ladder } from './ladder.ts'

export type EventKind = 'perforation' | 'bleeding'
const kinds: readonly EventKind[] = ['perforation', 'bleeding']

/** Days from the examination to the first event of each kind. */
export type Events = Partial<Record<EventKind, number>>

/** Days after which an event is no longer given to an examination: longer than any window in print, and as far as a window reads. */
const longestEventWindow = 60

/**
 * Gives each recorded event to one examination: the one it names, else the patient's latest earlier one that could have
 * caused it (a bleeding: one in which tissue was taken). Told twice, it counts once. What was recorded after the as-of
 * instant is not known yet.
 *
 * @param couldBleed whether tissue was taken or treated in an examination
 */
export function assignEvents(
  resources: Resources,
  ladder: Ladder,
  patientKey: (subject: unknown) => string | undefined,
  couldBleed: (examination: Examination) => boolean,
  { codes, source, asOf }: LinkContext,
): Map<Examination, Events> {
  const assigned = new Map<Examination, Events>()
  const add = (examination: Examination, kind: EventKind, day: number) => {
    const events = assigned.get(examination) ?? {}
    events[kind] = Math.min(events[kind] ?? day, day)
    assigned.set(examination, events)
    sawFeed(examination, 'events')
  }
  const known = (moment: Moment | undefined) => moment?.instant === undefined || moment.instant <= asOf
  const assign = (
    resource: Json,
    concept: unknown,
    direct: (string | undefined)[],
    subject: unknown,
    when: unknown,
    recorded: unknown,
  ) => {
    const kind = kindOf(concept, codes)
    if (kind === undefined || !known(readMoment(recorded ?? when, source.zone))) return
    const named = direct.map((key) => ladder.direct(key)).find((one) => one !== undefined)
    const date = readMoment(when, named?.zone ?? source.zone)?.date
    if (named) {
      // Told as a complication without a date: it happened at or right after the examination.
      const day = date === undefined ? 0 : daysBetween(named.date, date)
      if (day >= 0 && !isControlled(resource, kind, day)) add(named, kind, day)
      return
    }
    if (date === undefined) return
    const cause = ladder
      .ofPatient(patientKey(subject))
      .filter((examination) => {
        const day = daysBetween(examination.date, date)
        return day >= 0 && day <= longestEventWindow && (kind !== 'bleeding' || couldBleed(examination))
      })
      .at(-1)
    if (!cause) return
    const day = daysBetween(cause.date, date)
    if (!isControlled(resource, kind, day)) add(cause, kind, day)
  }

  const detailed = new Map<string, Examination>()
  for (const procedure of resources.ofType('Procedure')) {
    const own = ownKey(procedure)
    const examination = ladder.direct(own)
    if (!examination) continue
    for (const complication of asObjects(procedure.complication))
      assign(procedure, complication, [own], undefined, undefined, undefined)
    for (const detail of asObjects(procedure.complicationDetail)) {
      const key = referenceKey(detail)
      if (key !== undefined) detailed.set(key, examination)
    }
  }
  for (const condition of resources.ofType('Condition')) {
    if (isRefuted(condition)) continue
    const key = ownKey(condition)
    const examination = key === undefined ? undefined : detailed.get(key)
    assign(
      condition,
      condition.code,
      examination ? [examination.key] : [],
      condition.subject,
      condition.onsetDateTime ?? asObject(condition.onsetPeriod)?.start ?? condition.recordedDate,
      condition.recordedDate,
    )
  }
  for (const event of resources.ofType('AdverseEvent')) {
    if (event.actuality === 'potential') continue
    const suspects = asObjects(event.suspectEntity).map(({ instance }) => referenceKey(instance))
    assign(event, event.event, suspects, event.subject, event.date ?? event.detected, event.recordedDate)
  }
  return assigned
}

const kindOf = (concept: unknown, codes: Codes): EventKind | undefined => kinds.find((kind) => codes.in(concept, kind))

/** Immediate bleeding controlled without consequence is not an event: on the day itself, and said not to be serious. */
const isControlled = (resource: Json, kind: EventKind, day: number): boolean =>
  kind === 'bleeding' &&
  day === 0 &&
  asObjects(asObject(resource.seriousness)?.coding).some(({ code }) => code === 'Non-serious' || code === 'non-serious')
