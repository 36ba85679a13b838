import { ReportableError } from './errors.ts'
import { addDays, readMoment } from './fhir/dates.ts'

/** Instant as of which to read: the one asked for, but never later than the present (or the present that was configured). */
export function asOfInstant(
  asked: string | undefined,
  configured: string | undefined,
  now: Date,
  zone: string,
): number {
  const latest = configured === undefined ? now.getTime() : endOf(configured, zone)
  return asked === undefined ? latest : Math.min(endOf(asked, zone), latest)
}

/** An instant as it is; a civil date as the end of that day in the zone. */
function endOf(text: string, zone: string): number {
  const moment = readMoment(text, zone)
  if (moment?.instant !== undefined) return moment.instant
  if (moment?.date === undefined) throw new ReportableError('bad-request', `${text} is not a date or an instant.`)
  const nextMidnight = readMoment(`${addDays(moment.date, 1)}T00:00:00`, zone)?.instant ?? 0
  return nextMidnight - 1
}
