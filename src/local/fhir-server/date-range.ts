import { Refusal } from './refusal.ts'

/** A stretch of time in milliseconds since 1970: `from` belongs to it, `to` does not. */
export interface DateRange {
  readonly from: number
  readonly to: number
}

const pattern = /^(\d{4})(?:-(\d\d)(?:-(\d\d)(?:T(\d\d):(\d\d)(?::(\d\d)(\.\d+)?)?(Z|[+-]\d\d:\d\d)?)?)?)?$/

/**
 * The whole stretch that a FHIR date, dateTime or instant may mean: `2024-03` is the month. What has no zone is read in
 * UTC, which is this server's own zone.
 *
 * @returns undefined when it is no date at all
 */
export function readDate(text: string): DateRange | undefined {
  const parts = pattern.exec(text)
  if (parts === null) return undefined
  const [, year = '', month, day, hour, minute, second, fraction, zone = 'Z'] = parts
  const from = Date.parse(
    `${year}-${month ?? '01'}-${day ?? '01'}T${hour ?? '00'}:${minute ?? '00'}:${second ?? '00'}${fraction ?? ''}${zone}`,
  )
  // Date.parse lets 31 April become 1 May.
  const rolled =
    day !== undefined && new Date(Date.UTC(Number(year), Number(month) - 1, Number(day))).getUTCDate() !== Number(day)
  if (Number.isNaN(from) || rolled) return undefined
  if (fraction !== undefined) return { from, to: from + 1 }
  if (second !== undefined) return { from, to: from + 1000 }
  if (minute !== undefined) return { from, to: from + 60_000 }
  if (day !== undefined) return { from, to: from + 86_400_000 }
  if (month !== undefined) return { from, to: Date.UTC(Number(year), Number(month), 1) }
  return { from, to: Date.UTC(Number(year) + 1, 0, 1) }
}

/** The stretch of a date element of a resource: a date, an instant, or a Period that may be open at either end. */
export function rangeOf(value: unknown): DateRange | undefined {
  if (typeof value === 'string') return readDate(value)
  if (typeof value !== 'object' || value === null) return undefined
  const { start, end } = value as { start?: unknown; end?: unknown }
  const first = typeof start === 'string' ? readDate(start) : undefined
  const last = typeof end === 'string' ? readDate(end) : undefined
  if (first === undefined && last === undefined) return undefined
  return { from: first?.from ?? Number.NEGATIVE_INFINITY, to: last?.to ?? Number.POSITIVE_INFINITY }
}

type Prefix = keyof typeof matches

/**
 * When a target matches a search value; both are stretches. Source: FHIR R4 "Search", prefixes, table for date.
 * `ge` and `le` also take a target that the search value contains, which the open sides cover already.
 */
const matches = {
  eq: (target: DateRange, search: DateRange) => search.from <= target.from && target.to <= search.to,
  gt: (target: DateRange, search: DateRange) => target.to > search.to,
  lt: (target: DateRange, search: DateRange) => target.from < search.from,
  ge: (target: DateRange, search: DateRange) => target.to > search.to || matches.eq(target, search),
  le: (target: DateRange, search: DateRange) => target.from < search.from || matches.eq(target, search),
  sa: (target: DateRange, search: DateRange) => target.from >= search.to,
  eb: (target: DateRange, search: DateRange) => target.to <= search.from,
} as const

/**
 * Reads one search value such as `ge2026-01-01` into a test of a target.
 *
 * @throws {Refusal} 400 for a prefix that is not supported, or for what is no date
 */
export function dateTest(parameter: string, text: string): (target: DateRange) => boolean {
  const prefix = /^[a-z]{2}/.exec(text)?.[0] ?? 'eq'
  const value = text.replace(/^[a-z]{2}/, '')
  if (!(prefix in matches))
    throw new Refusal(400, 'not-supported', `The prefix ${prefix} of ${parameter} is not supported here`)
  const search = readDate(value)
  if (search === undefined) throw new Refusal(400, 'invalid', `${parameter} needs a date, not ${value}`)
  return (target) => matches[prefix as Prefix](target, search)
}
