import { ownKey } from '../fhir/references.ts'
import { eventKinds } from '../record/afterwards.ts'
import type { LeftOut } from './context.ts'
import { dayAfter, type EventDay } from './event-causes.ts'
import { noteEvent } from './event-trail.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Rung } from './rungs.ts'
import { type EventKind, type Severity, type ToldEvent, type When, worst } from './told-event.ts'

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
export const sameEventDays = 30

interface Found {
  first?: number
  undated?: boolean
  undecided?: boolean
  severity?: Severity | undefined
}

/** A telling that named its examination. */
export interface Recorded {
  readonly examination: Examination
  readonly kind: EventKind
  readonly when: When | undefined
}

/** The events given to examinations so far, what makes examinations undecided, and what is left out. */
export class FoundEvents {
  readonly leftOut: LeftOut[] = []
  readonly recorded: Recorded[] = []
  readonly #found = new Map<Examination, Partial<Record<EventKind, Found>>>()
  readonly #unknown = new Set<Examination>()

  /** Gives an event to an examination, unless its date contradicts that. */
  give(event: ToldEvent, kind: EventKind, examination: Examination, rung: Rung): void {
    const day = dayAfter(event, kind, examination)
    if (day === 'none') return
    if (day === 'before' || day === 'undecided') {
      this.leaveOpen(event, [examination], [kind])
      this.list(event, [examination], day === 'before' ? 'event dated before its examination' : undatedEvent)
      return
    }
    const known = this.#at(examination, kind)
    if (day === 'undated') known.undated = true
    else known.first = Math.min(known.first ?? day, day)
    known.severity = worst([known.severity, event.severity])
    if (event.named.length > 0) this.recorded.push({ examination, kind, when: event.when })
    if (examination.trail) noteEvent(examination.trail, event, kind, day === 'undated' ? undefined : day, rung)
  }

  /** Makes examinations undecided in some kinds of event. */
  leaveOpen({ kind }: ToldEvent, examinations: readonly Examination[], kinds: readonly EventKind[]): void {
    for (const examination of examinations) {
      for (const one of kinds) this.#at(examination, one).undecided = true
      if (kind === undefined) this.#unknown.add(examination)
    }
  }

  /** Lists an event that is given to none of some examinations. */
  list({ resource }: ToldEvent, examinations: readonly Examination[], reason: string): void {
    // An examination with a complication that is not understood is not left out: its facts say that they are not recorded.
    if (resource.resourceType === 'Procedure') return
    // The window of the earliest lists it, so that it is listed once however the period is split.
    const earliest = [...examinations].sort((one, other) => (one.date < other.date ? -1 : 1))[0]
    const reference = ownKey(resource) ?? String(resource.resourceType)
    // One that tells of two kinds is still one.
    if (earliest?.owned && !this.leftOut.some((one) => one.reference === reference && one.reason === reason))
      this.leftOut.push({ reference, reason })
  }

  outcomes(): Map<Examination, Events> {
    const events = new Map<Examination, Events>()
    for (const [examination, kinds] of this.#found) {
      const of: Partial<Record<EventKind, Outcome>> = {}
      for (const kind of eventKinds) {
        const found = kinds[kind]
        if (found) of[kind] = { day: dayOf(found), severity: found.severity }
      }
      events.set(examination, { of, unknownKind: this.#unknown.has(examination) })
    }
    return events
  }

  #at(examination: Examination, kind: EventKind): Found {
    const kinds = this.#found.get(examination) ?? {}
    this.#found.set(examination, kinds)
    sawFeed(examination, 'events')
    const known = kinds[kind] ?? {}
    kinds[kind] = known
    return known
  }
}

export const undatedEvent = 'event without a usable date'

/** One fact of everything found: within the days in which a second telling is the same event, a dated one leaves no doubt. */
function dayOf({ first, undated = false, undecided = false }: Found): EventDay {
  if (first !== undefined) return first > sameEventDays && (undated || undecided) ? 'undated' : first
  return undated ? 'undated' : 'undecided'
}
