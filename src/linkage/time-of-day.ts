import { clockTime } from '../fhir/dates.ts'
import { asText } from '../fhir/json.ts'
import { type Counted, isPlausible, writtenStart } from './candidates.ts'

/** Milliseconds since 1970. */
export interface TimeOfDay {
  readonly start: number
  /** Absent where nothing but the start is known. */
  readonly end: number | undefined
}

/**
 * What a candidate says of its time of day; undefined where it says nothing. Midnight by itself, written so or in the unit's
 * zone, is a date dressed as a time; a period of more than 12 hours is a slip, or that of the whole stay.
 */
export function timeOfDay(candidate: Counted): TimeOfDay | undefined {
  const { times, zone } = candidate
  const { start, end } = times
  if (start === undefined) return undefined
  if (end !== undefined && end > start) return isPlausible(times) ? { start, end } : undefined
  const isMidnightHere = start % 60_000 === 0 && clockTime(start, zone) === '00:00'
  return isMidnightHere || midnightWritten(candidate) !== undefined ? undefined : { start, end: undefined }
}

const midnight = /^(\d{4}-\d\d-\d\d)T00:00(?::00(?:\.0+)?)?(?:Z|[+-]\d\d:?\d\d)?$/

/** Civil date that is written as its midnight, in whatever zone. */
export const midnightWritten = ({ procedure }: Counted): string | undefined =>
  midnight.exec(asText(writtenStart(procedure)) ?? '')?.[1]
