import { daysBetween } from '../fhir/dates.ts'
import type { LeftOut, LinkContext, Resources } from './context.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import { type EventKind, readToldEvents, type ToldEvent, type When } from './told-events.ts'

/**
 * What is known of one kind of event after an examination: days to the first one, 'undated' where it happened on a day that
 * is not recorded, 'undecided' where it may or may not have been caused by this examination.
 */
export type EventDay = number | 'undated' | 'undecided'
export type Events = Partial<Record<EventKind, EventDay>>

/** Days after which an event is no longer given to an examination: longer than any window in print, and as far as a window reads. */
const longestEventWindow = 60
/** Days after an examination within which a second telling of a complication recorded with it is the same event. */
const sameEventDays = 30

/** What an event would be for one examination. */
type Reading = EventDay | 'none' | 'before'

interface Found {
  first?: number
  undated?: boolean
  undecided?: boolean
}

/**
 * Gives each recorded event to one examination: the one it names or that names it, else the patient's latest earlier one
 * that could have caused it (a bleeding: one in which tissue was taken). Told twice, it counts once. What no rule decides is
 * given to none, makes the examinations it may belong to undecided, and is listed.
 *
 * @param couldBleed whether tissue was taken or treated in an examination
 */
export function assignEvents(
  resources: Resources,
  ladder: Ladder,
  patientKey: (subject: unknown) => string | undefined,
  couldBleed: (examination: Examination) => boolean,
  context: LinkContext,
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
  const doubt = ({ reference, kind }: ToldEvent, examinations: readonly Examination[], reason: string) => {
    for (const examination of examinations) at(examination, kind).undecided = true
    // The window of the earliest lists it, so that it is listed once however the period is split.
    const earliest = [...examinations].sort((one, other) => (one.date < other.date ? -1 : 1))[0]
    if (earliest?.owned) leftOut.push({ reference, reason })
  }
  const give = (event: ToldEvent, examination: Examination) => {
    const day = readDay(event, examination)
    if (day === 'before') doubt(event, [examination], 'event dated before its examination')
    else if (day === 'undecided') doubt(event, [examination], 'event without a usable date')
    else if (day === 'undated') at(examination, event.kind).undated = true
    else if (day !== 'none') {
      const known = at(examination, event.kind)
      known.first = Math.min(known.first ?? day, day)
    }
  }

  const told = readToldEvents(resources, ladder, context)
  const recorded: { readonly examination: Examination; readonly kind: EventKind }[] = []
  for (const event of told) {
    const { named, kind } = event
    const [examination, ...more] = named
    if (examination === undefined) continue
    if (more.length > 0) doubt(event, named, 'event attribution undecided')
    else {
      give(event, examination)
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
    if (again) give(event, again)
    else {
      const rivals = earlier.filter((one) => kind !== 'bleeding' || couldBleed(one))
      const causes = causesOf(when, rivals)
      const [cause, ...more] = causes.examinations.filter((one) => readDay(event, one) !== 'none')
      if (cause === undefined) continue
      if (more.length === 0 && causes.isCertain) give(event, cause)
      else
        doubt(event, [cause, ...more], causes.isCertain ? 'event attribution undecided' : 'event without a usable date')
    }
  }
  const events = new Map<Examination, Events>()
  for (const [examination, { perforation, bleeding }] of found)
    events.set(examination, {
      ...(perforation && { perforation: dayOf(perforation) }),
      ...(bleeding && { bleeding: dayOf(bleeding) }),
    })
  return { events, leftOut }
}

/** One fact of everything found: within the days in which a second telling is the same event, a dated one leaves no doubt. */
function dayOf({ first, undated = false, undecided = false }: Found): EventDay {
  if (first !== undefined) return first > sameEventDays && (undated || undecided) ? 'undated' : first
  return undated ? 'undated' : 'undecided'
}

/** Immediate bleeding controlled without consequence is not an event: on the day itself, and said not to be serious. */
function readDay({ when, kind, minor }: ToldEvent, examination: Examination): Reading {
  const days = daysAfter(examination, when)
  if (days === undefined) return 'before'
  const { earliest, latest } = days
  if (minor && kind === 'bleeding' && earliest === 0) return latest === 0 ? 'none' : 'undecided'
  if (earliest === latest) return earliest
  return earliest > longestEventWindow ? 'none' : 'undated'
}

/** Earliest and latest day on which an event may have followed an examination; undefined when it came before. */
function daysAfter({ date, start }: Examination, when: When | undefined) {
  if (when === undefined) return { earliest: 0, latest: Number.POSITIVE_INFINITY }
  const latest = daysBetween(date, when.last)
  if (latest < 0 || (start !== undefined && when.instant !== undefined && when.instant < start)) return undefined
  return { earliest: Math.max(0, daysBetween(date, when.first)), latest }
}

function isWithin(examination: Examination, when: When | undefined, days: number): boolean {
  const after = when && daysAfter(examination, when)
  return after !== undefined && after.earliest <= days
}

/** What an examination was done for was there before it, and is no consequence of it or of a later one. */
const isBeforeAll = (one: Examination, others: readonly Examination[]): boolean =>
  others.every(
    (other) =>
      one.date < other.date ||
      (one.date === other.date && one.start !== undefined && other.start !== undefined && one.start < other.start),
  )

/**
 * Examinations that may have caused an event: on each day on which it may have happened, the patient's latest one. Certain
 * when they are the same for each of these days.
 *
 * @param rivals in order of date
 */
function causesOf(when: When | undefined, rivals: readonly Examination[]) {
  if (when === undefined) return { examinations: rivals, isCertain: false }
  const { first, last, instant } = when
  const latestBy = (date: string) => {
    const day: When = instant === undefined ? { first: date, last: date } : { first: date, last: date, instant }
    const begun = rivals.filter((one) => daysBetween(one.date, date) >= 0 && isWithin(one, day, longestEventWindow))
    return begun.filter((one) => one.date === begun.at(-1)?.date)
  }
  const early = latestBy(first)
  if (first === last) return { examinations: early, isCertain: true }
  const between = rivals.filter(({ date }) => date > first && date <= last)
  const isCertain = early.length > 0 && between.length === 0 && latestBy(last)[0] === early[0]
  return { examinations: [...early, ...between], isCertain }
}
