import { eventKinds } from '../record/afterwards.ts'
import type { LeftOut } from './context.ts'
import { causesOf, dayAfter, isBeforeAll, isWithin } from './event-causes.ts'
import type { Examination } from './examinations.ts'
import { type Events, FoundEvents, type Recorded, sameEventDays, undatedEvent } from './found-events.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { EventKind, ToldEvent, When } from './told-event.ts'
import { readToldEvents } from './told-events.ts'

type CouldBleed = (examination: Examination) => boolean

/**
 * Gives each recorded event to one examination: the one it names or that names it, else the patient's latest earlier one
 * that could have caused it (a bleeding: one in which tissue was taken), where one of its encounter could, of those. Told twice, it
 * counts once. What names another procedure is none of them. What no rule decides is given to none, makes the examinations it
 * may belong to undecided, and is listed; so is what is only suspected, or of a kind that no code we know names.
 *
 * @param couldBleed whether tissue was taken or treated in an examination
 */
export function assignEvents(
  reading: Reading,
  ladder: Ladder,
  patientKey: PatientKey,
  couldBleed: CouldBleed,
): { events: Map<Examination, Events>; leftOut: LeftOut[] } {
  const found = new FoundEvents()
  const unnamed: ToldEvent[] = []
  for (const event of readToldEvents(reading, ladder, patientKey)) {
    const { named, kind, rung } = event
    const [examination, ...more] = named
    const reason = doubtIn(event) ?? (more.length > 0 ? undecided : undefined)
    if (examination === undefined) unnamed.push(event)
    else if (kind !== undefined && reason === undefined) found.give(event, kind, examination, rung)
    else {
      found.leaveOpen(event, named, kindsIn(event))
      found.list(event, named, reason ?? undecided)
    }
  }
  for (const event of unnamed) {
    const patients = ladder.ofPatient(patientKey(event.subject))
    if (patients.length > 0) placeByTime(event, patients, found, couldBleed)
  }
  return { events: found.outcomes(), leftOut: found.leftOut }
}

const undecided = 'event attribution undecided'

/** Why an event cannot be counted, whatever examination it is of. */
function doubtIn({ kind, isSuspicion }: ToldEvent): string | undefined {
  if (kind === undefined) return 'event of a kind that is not known'
  return isSuspicion ? 'event that nobody has confirmed' : undefined
}

const kindsIn = ({ kind }: ToldEvent): readonly EventKind[] => (kind === undefined ? eventKinds : [kind])

function placeByTime(
  event: ToldEvent,
  patients: readonly Examination[],
  found: FoundEvents,
  couldBleed: CouldBleed,
): void {
  const { kind, encounter, other } = event
  const earlier = patients.filter((one) => isBeforeAll(one, event.reasonFor))
  const shared = encounter === undefined ? [] : earlier.filter(({ encounters }) => encounters.includes(encounter))
  const ofEncounter = shared.length === 0 ? [] : causesIn(event, shared, couldBleed)
  const isShared = ofEncounter.length > 0
  const causes = isShared ? ofEncounter : causesIn(event, earlier, couldBleed)
  const examinations = [...new Set(causes.flatMap((one) => one.examinations))]
  if (examinations.length === 0) {
    const bled = kind === 'bleeding' && other !== 'another' ? causesIn(event, earlier, () => true) : []
    for (const one of bled)
      found.list(event, one.examinations, 'bleeding after an examination in which nothing was taken')
    return
  }
  if (other === 'another') {
    if (kind !== undefined) found.list(event, examinations, 'event of another procedure')
    return
  }
  let reason = doubtIn(event)
  if (other === 'unclear') reason ??= 'event of a procedure that did not come'
  if (kind !== undefined && reason === undefined) {
    const told = toldBefore(event, kind, isShared ? shared : earlier, examinations, found.recorded)
    const cause = typeof told === 'object' ? told : told === undefined ? onlyOne(causes) : undefined
    if (cause !== undefined) {
      const rung = isShared ? 'shared encounter' : 'same patient within the time window'
      found.give(event, kind, cause, rung)
      return
    }
    reason = isOfOneDay(event.when) ? undecided : undatedEvent
  }
  for (const one of causes) found.leaveOpen(event, one.examinations, [one.kind])
  found.list(event, examinations, reason ?? undecided)
}

const isOfOneDay = (when: When | undefined): boolean => when !== undefined && when.first === when.last

interface Causes {
  readonly kind: EventKind
  readonly examinations: readonly Examination[]
  readonly isCertain: boolean
}

/** The one examination that certainly caused an event. */
function onlyOne([causes, ...more]: readonly Causes[]): Examination | undefined {
  if (causes === undefined || more.length > 0 || !causes.isCertain || causes.examinations.length > 1) return undefined
  return causes.examinations[0]
}

/** Examinations of some that may have caused an event, by each kind of which it may be. */
function causesIn(event: ToldEvent, examinations: readonly Examination[], couldBleed: CouldBleed): Causes[] {
  return kindsIn(event).flatMap((kind) => {
    const rivals = kind === 'bleeding' ? examinations.filter(couldBleed) : examinations
    const causes = causesOf(event.when, rivals)
    const possible = causes.examinations.filter((one) => dayAfter(event, kind, one) !== 'none')
    return possible.length === 0 ? [] : [{ kind, examinations: possible, isCertain: causes.isCertain }]
  })
}

/**
 * The examination whose recorded event is told again: unless an examination that could have caused another one came between
 * the two tellings. 'perhaps' where one may have.
 *
 * @param causes examinations that could have caused it
 */
function toldBefore(
  { when }: ToldEvent,
  kind: EventKind,
  examinations: readonly Examination[],
  causes: readonly Examination[],
  recorded: readonly Recorded[],
): Examination | 'perhaps' | undefined {
  const again = examinations.findLast(
    (one) =>
      recorded.some((direct) => direct.examination === one && direct.kind === kind) &&
      isWithin(one, when, sameEventDays),
  )
  if (again === undefined) return undefined
  const later = causes.filter((one) => one !== again && !isBeforeAll(one, [again]))
  if (later.length === 0) return again
  const tellings = recorded.filter((direct) => direct.examination === again && direct.kind === kind)
  if (tellings.every((telling) => later.every((one) => isToldBefore(telling, one)))) return undefined
  return tellings.some((telling) => later.every((one) => isToldAfter(telling, one))) ? again : 'perhaps'
}

/** An undated complication is of its own examination's day, which came first. */
const isToldBefore = ({ when, examination }: Recorded, { span, start }: Examination): boolean =>
  when !== undefined &&
  (when === examination.span ||
    when.last < span.first ||
    (when.instant !== undefined && start !== undefined && when.instant < start))

const isToldAfter = ({ when }: Recorded, { span, start }: Examination): boolean =>
  when !== undefined &&
  (when.instant !== undefined && start !== undefined ? when.instant >= start : when.first > span.last)
