import type { Moment } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Rung } from './rungs.ts'

/** One thing that was advised. */
export interface Stated<Value> {
  readonly value: Value | 'unreadable'
  /** When it was signed; undefined where no date that can be read says so. */
  readonly signed: Moment | undefined
  readonly resource: Json
  readonly element: string
  readonly rung: Rung
}

type Signed = Pick<Stated<unknown>, 'signed'>

/** Statements than which none is certainly later. */
export const latestOf = <Value>(stated: readonly Stated<Value>[]): readonly Stated<Value>[] =>
  stated.length < 2 ? stated : stated.filter((one) => !stated.some((other) => isLater(other, one)))

/** Whether one statement was certainly signed after another: on one day only where both have a time. */
export function isLater(one: Signed, other: Signed): boolean {
  if (one.signed?.instant !== undefined && other.signed?.instant !== undefined)
    return one.signed.instant > other.signed.instant
  return isOfLaterDay(one, other)
}

export function isOfLaterDay(one: Signed, other: Signed): boolean {
  const [date, otherDate] = [one.signed?.date, other.signed?.date]
  return date !== undefined && otherDate !== undefined && date > otherDate
}
