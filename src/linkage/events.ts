import { ownKey } from '../fhir/references.ts'
import type { LeftOut } from './context.ts'
import { causesOf, daysAfter, isBeforeAll, isWithin, longestEventWindow } from './event-causes.ts'
import { noteEvent } from './event-trail.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { Rung } from './rungs.ts'
import { type EventKind, type Severity, type ToldEvent, worst } from './told-event.ts'
import { readToldEvents } from './told-events.ts'

/**
 * Days from an examination to the first event of a kind: a number, 'undated' where it happened on a day that is not recorded,
 * 'undecided' where it may or may not have been caused by this examination.
 */
export type EventDay = number | 'undated' | 'undecided'

/** What is known of one kind of event after an examination. */
export interface Outcome {
  readonly day: EventDay
  /** The worst that is stated. */
  readonly severity: Severity | undefined
}

/** What is known of the events after one examination. */
export interface Events {
  readonly of: Readonly<Partial<Record<EventKind, Outcome>>>
  /** Something more was told, of a kind that no code we know names. */
  readonly unknownKind: boolean
}

/** Days after an examination within which a second telling of a complication recorded with it is the same event. */
const sameEventDays = 30

/** What an event would be for one examination. */
type DayOrNone = EventDay | 'none' | 'before'

interface Found {
  first?: number
  undated?: boolean
  undecided?: boolean
  severity?: Severity | undefined
}

/**
 * Gives each recorded event to one examination: the one it names or that names it, else the patient's latest earlier one
 * that could have caused it (a bleeding: one in which tissue was taken). Told twice, it counts once. What no rule decides is
 * given to none, makes the examinations it may belong to undecided, and is listed.
 *
 * @param couldBleed whether tissue was taken or treated in an examination
 */
export function assignEvents(
  reading: Reading,
  ladder: Ladder,
  patientKey: PatientKey,
  couldBleed: (examination: Examination) => boolean,
): { events: Map<Examination, Events>; leftOut: LeftOut[] } {
  const found = new Map<Examination, Partial<Record<EventKind, Found>>>()
  const leftOut: LeftOut[] = []
  const at = (examination: Examination, kind: EventKind): Found => {
    const kinds = found.get(examination) ?? {}
    found.set(examination, kinds)
    sawFeed(examination, 'events')
    const known = kinds[kind] ?? {}
    kinds[kind] = known
    return known
  }
  const doubt = ({ resource, kind }: ToldEvent, examinations: readonly Examination[], reason: string) => {
    for (const examination of examinations) at(examination, kind).undecided = true
    // The window of the earliest lists it, so that it is listed once however the period is split.
    const earliest = [...examinations].sort((one, other) => (one.date < other.date ? -1 : 1))[0]
    const reference = ownKey(resource) ?? String(resource.resourceType)
    // One that tells of two kinds is still one.
    if (earliest?.owned && !leftOut.some((one) => one.reference === reference && one.reason === reason))
      leftOut.push({ reference, reason })
  }
  const give = (event: ToldEvent, examination: Examination, rung: Rung) => {
    const day = readDay(event, examination)
    if (day === 'before') doubt(event, [examination], 'event dated before its examination')
    else if (day === 'undecided') doubt(event, [examination], 'event without a usable date')
    else if (day !== 'none') {
      const known = at(examination, event.kind)
      if (day === 'undated') known.undated = true
      else known.first = Math.min(known.first ?? day, day)
      known.severity = worst([known.severity, event.severity])
      if (examination.trail) noteEvent(examination.trail, event, day === 'undated' ? undefined : day, rung)
    }
  }

  const { told, unknown } = readToldEvents(reading, ladder, patientKey)
  const recorded: { readonly examination: Examination; readonly kind: EventKind }[] = []
  for (const event of told) {
    const { named, kind } = event
    const [examination, ...more] = named
    if (examination === undefined) continue
    if (more.length > 0) doubt(event, named, 'event attribution undecided')
    else {
      give(event, examination, event.rung)
      const day = readDay(event, examination)
      if (day === 'undated' || typeof day === 'number') recorded.push({ examination, kind })
    }
  }
  for (const event of told) {
    if (event.named.length > 0) continue
    const { kind, when } = event
    const earlier = ladder.ofPatient(patientKey(event.subject)).filter((one) => isBeforeAll(one, event.reasonFor))
    const again = earlier
      .filter((one) => recorded.some((direct) => direct.examination === one && direct.kind === kind))
      .filter((one) => isWithin(one, when, sameEventDays))
      .at(-1)
    if (again) give(event, again, placedByTime)
    else {
      const rivals = earlier.filter((one) => kind !== 'bleeding' || couldBleed(one))
      const causes = causesOf(when, rivals)
      const [cause, ...more] = causes.examinations.filter((one) => readDay(event, one) !== 'none')
      if (cause === undefined) continue
      if (more.length === 0 && causes.isCertain) give(event, cause, placedByTime)
      else {
        const isDated = when !== undefined && when.first === when.last
        doubt(event, [cause, ...more], isDated ? 'event attribution undecided' : 'event without a usable date')
      }
    }
  }
  const events = new Map<Examination, Events>()
  for (const [examination, { perforation, bleeding, cardiopulmonary }] of found)
    events.set(examination, {
      of: {
        ...(perforation && { perforation: outcomeOf(perforation) }),
        ...(bleeding && { bleeding: outcomeOf(bleeding) }),
        ...(cardiopulmonary && { cardiopulmonary: outcomeOf(cardiopulmonary) }),
      },
      unknownKind: unknown.has(examination),
    })
  for (const examination of unknown) {
    sawFeed(examination, 'events')
    if (!events.has(examination)) events.set(examination, { of: {}, unknownKind: true })
  }
  return { events, leftOut }
}

const placedByTime: Rung = 'same patient within the time window'

const outcomeOf = (found: Found): Outcome => ({ day: dayOf(found), severity: found.severity })

/** One fact of everything found: within the days in which a second telling is the same event, a dated one leaves no doubt. */
function dayOf({ first, undated = false, undecided = false }: Found): EventDay {
  if (first !== undefined) return first > sameEventDays && (undated || undecided) ? 'undated' : first
  return undated ? 'undated' : 'undecided'
}

/** Immediate bleeding controlled without consequence is not an event: on the day itself, and said not to be serious. */
function readDay({ when, kind, minor }: ToldEvent, examination: Examination): DayOrNone {
  const days = daysAfter(examination, when)
  if (days === undefined) return 'before'
  const { earliest, latest } = days
  if (minor && kind === 'bleeding' && earliest === 0) return latest === 0 ? 'none' : 'undecided'
  if (earliest === latest) return earliest
  return earliest > longestEventWindow ? 'none' : 'undated'
}
