import { daysBetween } from '../fhir/dates.ts'
import type { Examination } from './examinations.ts'
import type { EventKind, ToldEvent, When } from './told-event.ts'

/** Days after which an event is no longer given to an examination: longer than any window in print, and as far as a window reads. */
const longestEventWindow = 60

/**
 * Days from an examination to an event: a number, 'undated' where it happened on a day that is not recorded, 'undecided' where it
 * may or may not have been caused by this examination.
 */
export type EventDay = number | 'undated' | 'undecided'

/** Earliest and latest day on which an event may have followed an examination; undefined when it came before. */
function daysAfter({ span, start }: Examination, when: When | undefined) {
  if (when === undefined) return { earliest: 0, latest: Number.POSITIVE_INFINITY }
  // A complication without a date of its own is of the examination's day, whichever that was.
  if (when === span) return { earliest: 0, latest: 0 }
  const latest = daysBetween(span.first, when.last)
  if (latest < 0 || (start !== undefined && when.instant !== undefined && when.instant < start)) return undefined
  return { earliest: Math.max(0, daysBetween(span.last, when.first)), latest }
}

/**
 * What an event, were it of a kind, is for one examination. Immediate bleeding controlled without consequence is not an event: on
 * the day itself, and said not to be serious.
 */
export function dayAfter(
  { when, minor }: ToldEvent,
  kind: EventKind,
  examination: Examination,
): EventDay | 'none' | 'before' {
  const days = daysAfter(examination, when)
  if (days === undefined) return 'before'
  const { earliest, latest } = days
  if (minor && kind === 'bleeding' && earliest === 0) return latest === 0 ? 'none' : 'undecided'
  if (earliest === latest) return earliest
  return earliest > longestEventWindow ? 'none' : 'undated'
}

export function isWithin(examination: Examination, when: When | undefined, days: number): boolean {
  const after = when && daysAfter(examination, when)
  return after !== undefined && after.earliest <= days
}

/** What an examination was done for was there before it, and is no consequence of it or of a later one. */
export const isBeforeAll = (one: Examination, others: readonly Examination[]): boolean =>
  others.every(
    (other) =>
      one !== other &&
      (one.span.first < other.span.last ||
        (one.date === other.date && one.start !== undefined && other.start !== undefined && one.start < other.start)),
  )

const isOfOneDay = ({ span }: Examination): boolean => span.first === span.last

/**
 * Examinations that may have caused an event: on each day on which it may have happened, the patient's latest one. Certain
 * when they are the same for each of these days. One whose own day is not known may be the latest on any day that it may have
 * come before.
 *
 * @param patients in order of date
 */
export function causesOf(when: When | undefined, patients: readonly Examination[]) {
  if (when === undefined) return { examinations: patients, isCertain: false }
  const { first, last, instant } = when
  const rivals = patients.filter(isOfOneDay)
  const latestBy = (date: string) => {
    const day: When = instant === undefined ? { first: date, last: date } : { first: date, last: date, instant }
    const begun = rivals.filter((one) => daysBetween(one.date, date) >= 0 && isWithin(one, day, longestEventWindow))
    return begun.filter((one) => one.date === begun.at(-1)?.date)
  }
  const early = latestBy(first)
  const between = first === last ? [] : rivals.filter(({ date }) => date > first && date <= last)
  const isCertain = first === last || (early.length > 0 && between.length === 0 && latestBy(last)[0] === early[0])
  const examinations = [...early, ...between]
  const coarse = patients.filter((one) => !isOfOneDay(one) && isWithin(one, when, longestEventWindow))
  if (coarse.length === 0) return { examinations, isCertain }
  const [only] = coarse
  const isOnly = coarse.length === 1 && examinations.length === 0 && only !== undefined && only.span.last <= first
  return { examinations: [...examinations, ...coarse], isCertain: isOnly }
}
