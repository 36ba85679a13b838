import { asText } from './json.ts'

const day = 86_400_000
const dateTime = /^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?)?$/

/** Days since 1970-01-01 of a civil date `YYYY-MM-DD`. */
export const epochDay = (date: string): number =>
  Date.UTC(Number(date.slice(0, 4)), Number(date.slice(5, 7)) - 1, Number(date.slice(8, 10))) / day

const writtenDays = new Map<number, string>()

/** Civil date `YYYY-MM-DD` of a number of days since 1970-01-01. A few thousand days are all that ever come: each is written once. */
export function dateOfEpochDay(days: number): string {
  const known = writtenDays.get(days)
  if (known !== undefined) return known
  const date = new Date(days * day).toISOString().slice(0, 10)
  if (writtenDays.size < 100_000) writtenDays.set(days, date)
  return date
}

/** Civil date some days later (or earlier). */
export const addDays = (date: string, days: number): string => dateOfEpochDay(epochDay(date) + days)

/** Whole days from one civil date to another. */
export const daysBetween = (from: string, to: string): number => epochDay(to) - epochDay(from)

/** A FHIR date or dateTime as read: which civil date it is, and which instant where it has a time. */
export interface Moment {
  /** Civil date in the zone; absent when the value is coarser than a day. */
  readonly date?: string
  /** Milliseconds since 1970; absent without a time of day. */
  readonly instant?: number
  /** The value as written when it is only a year or a month. */
  readonly coarse?: string
}

const formats = new Map<string, Intl.DateTimeFormat>()
const offsets = new Map<string, Map<number, number>>()

/** Minutes east of UTC in a zone at an instant, kept per quarter of an hour: the formatter is slow, offsets change rarely. */
function offsetMinutes(instant: number, zone: string): number {
  const known = offsets.get(zone) ?? new Map<number, number>()
  offsets.set(zone, known)
  const quarter = Math.floor(instant / 900_000)
  const cached = known.get(quarter)
  if (cached !== undefined) return cached
  let format = formats.get(zone)
  if (!format) {
    format = new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
    })
    formats.set(zone, format)
  }
  const parts: Record<string, number> = {}
  for (const { type, value } of format.formatToParts(quarter * 900_000)) parts[type] = Number(value)
  const local = Date.UTC(parts.year ?? 1970, (parts.month ?? 1) - 1, parts.day, parts.hour, parts.minute)
  const minutes = (local - quarter * 900_000) / 60_000
  if (known.size > 100_000) known.clear()
  known.set(quarter, minutes)
  return minutes
}

/** Civil date in a zone at an instant. */
export const civilDate = (instant: number, zone: string): string =>
  dateOfEpochDay(Math.floor((instant + offsetMinutes(instant, zone) * 60_000) / day))

/**
 * Reads a FHIR date, dateTime or instant. A time without a zone is not valid FHIR but is met: it is taken as local time in
 * the given zone.
 *
 * @returns undefined for what is not a date at all, impossible calendar dates included
 */
export function readMoment(value: unknown, zone: string): Moment | undefined {
  const text = asText(value)
  if (text === undefined) return undefined
  const match = dateTime.exec(text)
  if (!match) return /^\d{4}(-(0[1-9]|1[0-2]))?$/.test(text) ? { coarse: text } : undefined
  const date = text.slice(0, 10)
  if (!isCalendarDate(date)) return undefined
  if (match[4] === undefined) return { date }
  const wall = Date.UTC(
    Number(match[1]),
    Number(match[2]) - 1,
    Number(match[3]),
    Number(match[4]),
    Number(match[5]),
    Math.min(59, Number(match[6] ?? 0)),
  )
  if (match[7] === undefined) return { date, instant: wall - offsetMinutes(wall, zone) * 60_000 }
  const instant = wall - writtenOffset(match[7]) * 60_000
  return { date: civilDate(instant, zone), instant }
}

function writtenOffset(text: string): number {
  if (text === 'Z') return 0
  const minutes = Number(text.slice(1, 3)) * 60 + Number(text.slice(-2))
  return text[0] === '-' ? -minutes : minutes
}

const daysInMonth = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** Whether `YYYY-MM-DD` is a day of the calendar. */
export function isCalendarDate(date: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) return false
  const year = Number(date.slice(0, 4))
  const month = Number(date.slice(5, 7))
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
  const days = (daysInMonth[month - 1] ?? 0) + (leap ? 1 : 0)
  const dayOfMonth = Number(date.slice(8, 10))
  return dayOfMonth >= 1 && dayOfMonth <= days
}
