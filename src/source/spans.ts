import { addDays } from '../fhir/dates.ts'
import { asObject } from '../fhir/json.ts'
import type { Resource } from './references.ts'

/** First and last civil date that a FHIR date of any precision can mean, as text that compares in order. */
export interface Days {
  readonly low: string
  readonly high: string
}

export function daysOf(date: unknown): Days | undefined {
  const match = typeof date === 'string' ? /^\s*(\d{4})(-\d{2})?(-\d{2})?(?!\d)/.exec(date) : null
  if (!match) return undefined
  const [, year = '', month, day] = match
  return { low: `${year}${month ?? '-01'}${day ?? '-01'}`, high: `${year}${month ?? '-12'}${day ?? '-31'}` }
}

/** The days that a date or Period may cover: FHIR R4 has a Period without an end go on, and one without a start begin unknown. */
export function spanOf(value: unknown): Days | undefined {
  const period = asObject(value)
  if (!period) return daysOf(value)
  const [start, end] = [daysOf(period.start), daysOf(period.end)]
  return start || end ? { low: start?.low ?? '', high: end?.high ?? '9999' } : undefined
}

/**
 * Whether any of some elements of a row touches the days from `first` to `last`, two days of grace on each side, as the
 * server compares in a zone of its own. A row without a readable date does.
 */
export function touches(row: Resource, elements: readonly string[], first: string, last = '9999'): boolean {
  const spans = elements.flatMap((element) => spanOf(row[element]) ?? [])
  const from = addDays(first, -2)
  const until = last === '9999' ? last : addDays(last, 2)
  return spans.length === 0 || spans.some(({ low, high }) => low <= until && high >= from)
}
