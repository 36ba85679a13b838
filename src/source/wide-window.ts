import { addDays } from '../fhir/dates.ts'
import { asObject, asObjects } from '../fhir/json.ts'
import type { Resource } from './references.ts'
import { type Days, daysOf } from './spans.ts'

/**
 * The days read for a window: three more on each side, where rivals and duplicates of its examinations lie, and one more,
 * as servers compare dates in zones of their own.
 */
export interface WideWindow {
  /** Civil dates, both inclusive. */
  readonly first: string
  readonly last: string
  readonly codes: ReadonlySet<string>
}

export function wideWindow(window: { start: string; end: string }, codes: readonly string[]): WideWindow {
  return { first: addDays(window.start, -4), last: addDays(window.end, 4), codes: new Set(codes) }
}

/**
 * Whether the search could have meant this procedure: one of the codes, and performed at a time that touches the days
 * asked for. A period touches every day it covers; two days are left for the server's zone.
 */
export function wasAskedFor(procedure: Resource, { first, last, codes }: WideWindow): boolean {
  if (!hasCode(procedure, codes)) return false
  const { start, end } = performed(procedure)
  if (!start && !end) return true
  return (start?.low ?? '') <= addDays(last, 2) && (end?.high ?? '9999') >= addDays(first, -2)
}

/**
 * Whether the procedure began on one of the days, or may have: a date that is only a month or a year is kept where it
 * reaches into them, so that it can be counted as too coarse. Undated procedures are kept.
 */
export function beganWithin(procedure: Resource, { first, last }: WideWindow): boolean {
  const began = beganOn(procedure)
  return !began || (began.low <= last && began.high >= first)
}

/** Civil dates that the beginning can mean, by the end where only that is recorded. */
export function beganOn(procedure: Resource): Days | undefined {
  const { start, end } = performed(procedure)
  return start ?? end
}

export function isDated(procedure: Resource): boolean {
  const { start, end } = performed(procedure)
  return start !== undefined || end !== undefined
}

function performed({ performedDateTime, performedPeriod }: Resource): { start?: Days; end?: Days } {
  const period = asObject(performedPeriod)
  const start = daysOf(period ? period.start : performedDateTime)
  const end = period ? daysOf(period.end) : start
  return { ...(start && { start }), ...(end && { end }) }
}

export function hasCode(procedure: Resource, codes: ReadonlySet<string>): boolean {
  return asObjects(asObject(procedure.code)?.coding).some(({ code }) => typeof code === 'string' && codes.has(code))
}
