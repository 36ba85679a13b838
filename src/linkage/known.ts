import { dateOfEpochDay, isKnownBy } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'

const day = 86_400_000

/**
 * Whether an observation was known by an instant (milliseconds since 1970): when it was issued, else when what it tells
 * happened. One without either was.
 */
export function isKnownYet(observation: Json, asOf: number, zone: string): boolean {
  if (asOf === Number.POSITIVE_INFINITY) return true
  const written = observation.issued ?? observation.effectiveDateTime ?? asObject(observation.effectivePeriod)?.start
  if (written === undefined) return true
  // What is dated two days before has passed in every zone: nearly all of it has, and is not worth reading as a date.
  if (typeof written === 'string' && written.charCodeAt(0) > 32 && written < dateOfEpochDay(Math.floor(asOf / day) - 1))
    return true
  return isKnownBy(written, asOf, zone)
}
