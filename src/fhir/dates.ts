import { asText } from './json.ts'

const day = 86_400_000
const dateTime = /^\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?)?$/

/** The whole number written in some digits of a text that is known to hold digits there. */
function digits(text: string, from: number, until: number): number {
  let value = 0
  for (let index = from; index < until; index++) value = value * 10 + text.charCodeAt(index) - 48
  return value
}

/** Days since 1970-01-01 of a civil date `YYYY-MM-DD`. */
export const epochDay = (date: string): number =>
  Date.UTC(digits(date, 0, 4), digits(date, 5, 7) - 1, digits(date, 8, 10)) / day

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

/** Clock time `HH:MM` in a zone at an instant. */
export function clockTime(instant: number, zone: string): string {
  const minutes = Math.floor(instant / 60_000) + offsetMinutes(instant, zone)
  const ofDay = ((minutes % 1440) + 1440) % 1440
  return `${twoDigits(Math.floor(ofDay / 60))}:${twoDigits(ofDay % 60)}`
}

const twoDigits = (value: number): string => (value < 10 ? `0${value}` : `${value}`)

/** Instant of a wall-clock time, given as if it were UTC; the offset is looked up twice, as it may change in between. */
function instantOfWall(wall: number, zone: string): number {
  const about = wall - offsetMinutes(wall, zone) * 60_000
  return wall - offsetMinutes(about, zone) * 60_000
}

/** What was read last: the resources of one examination stand together and mostly bear the same time. */
let lastText: string | undefined
let lastZone: string | undefined
let lastMoment: Moment | undefined

/**
 * Reads a FHIR date, dateTime or instant. A time without a zone is not valid FHIR but is met: it is taken as local time in
 * the given zone.
 *
 * @returns undefined for what is not a date at all, impossible calendar dates included
 */
export function readMoment(value: unknown, zone: string): Moment | undefined {
  const text = asText(value)
  if (text === undefined) return undefined
  if (text !== lastText || zone !== lastZone) {
    lastMoment = parseMoment(text, zone)
    lastText = text
    lastZone = zone
  }
  return lastMoment
}

function parseMoment(text: string, zone: string): Moment | undefined {
  if (!dateTime.test(text)) return /^\d{4}(-(0[1-9]|1[0-2]))?$/.test(text) ? { coarse: text } : undefined
  if (!isDayOfCalendar(text)) return undefined
  if (text.length === 10) return { date: text }
  const hour = digits(text, 11, 13)
  const minute = digits(text, 14, 16)
  if (hour > 23 || minute > 59) return undefined
  const seconds = text.charCodeAt(16) === 58 ? Math.min(59, digits(text, 17, 19)) : 0
  const wall = epochDay(text) * day + hour * 3_600_000 + minute * 60_000 + seconds * 1000
  if (!endsWithZone(text)) return { date: text.slice(0, 10), instant: instantOfWall(wall, zone) }
  const instant = wall - writtenOffset(text) * 60_000
  return { date: civilDate(instant, zone), instant }
}

/** Whether a dateTime ends with `Z` or an offset, whose sign stands five or six from the end. */
function endsWithZone(text: string): boolean {
  const end = text.length
  return text.charCodeAt(end - 1) === 90 || isSign(text.charCodeAt(end - 6)) || isSign(text.charCodeAt(end - 5))
}

const isSign = (code: number): boolean => code === 43 || code === 45

/** Civil dates, both inclusive. */
export interface CivilSpan {
  readonly first: string
  readonly last: string
}

/** The civil dates that a moment can mean: one day, or all those of its month or year. */
export function spanOf({ date, coarse = '' }: Moment): CivilSpan {
  if (date !== undefined) return { first: date, last: date }
  if (coarse.length === 4) return { first: `${coarse}-01-01`, last: `${coarse}-12-31` }
  const first = `${coarse}-01`
  // The day before the first of the next month; 31 days on is always in that month.
  return { first, last: addDays(`${addDays(first, 31).slice(0, 7)}-01`, -1) }
}

/**
 * Whether what happened, or was recorded, at a FHIR date, dateTime or instant was known by an instant: not after it, or not
 * after its civil date in the zone. A month or a year is known from its first day. What is absent or cannot be read is no
 * reason to hold anything back.
 *
 * @param asOf milliseconds since 1970
 */
export function isKnownBy(value: unknown, asOf: number, zone: string): boolean {
  const moment = readMoment(value, zone)
  if (moment === undefined || asOf === Number.POSITIVE_INFINITY) return true
  return moment.instant === undefined ? spanOf(moment).first <= civilDate(asOf, zone) : moment.instant <= asOf
}

/** Minutes east of UTC that a text ends with. */
function writtenOffset(text: string): number {
  const end = text.length
  if (text.charCodeAt(end - 1) === 90) return 0
  const sign = text.charCodeAt(end - 3) === 58 ? end - 6 : end - 5
  const minutes = digits(text, sign + 1, sign + 3) * 60 + digits(text, end - 2, end)
  return text.charCodeAt(sign) === 45 ? -minutes : minutes
}

const daysInMonth = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

const writtenDate = /^\d{4}-\d{2}-\d{2}$/

/** Whether `YYYY-MM-DD` is a day of the calendar. */
export const isCalendarDate = (date: string): boolean => writtenDate.test(date) && isDayOfCalendar(date)

/** Whether the calendar has the day with which a text begins, which is known to be written `YYYY-MM-DD`. */
function isDayOfCalendar(date: string): boolean {
  const year = digits(date, 0, 4)
  const month = digits(date, 5, 7)
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
  const days = (daysInMonth[month - 1] ?? 0) + (leap ? 1 : 0)
  const dayOfMonth = digits(date, 8, 10)
  return dayOfMonth >= 1 && dayOfMonth <= days
}
