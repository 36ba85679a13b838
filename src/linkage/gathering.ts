import { readMoment } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import type { Ladder, Ties } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { Rung } from './rungs.ts'

/** Where a resource was placed, and by which rung. */
export interface Place {
  readonly examination: Examination
  readonly rung: Rung
}

/** Finds the examination of one resource; what fits several is listed and placed nowhere. */
export type PlaceResource = (resource: Json, ties: Ties) => Place | undefined

/** What gathering is done with. */
export interface Gathering {
  readonly reading: Reading
  readonly ladder: Ladder
  readonly patientKey: PatientKey
  readonly place: PlaceResource
}

/** Statuses of resources that tell of nothing that happened. */
export const voided: ReadonlySet<unknown> = new Set(['entered-in-error', 'cancelled', 'not-done'])

/** References of an element as keys, and as undefined where they lead outside. */
export const keysIn = (value: unknown): (string | undefined)[] => asObjects(value).map(referenceKey)

/** Civil date of a FHIR date or period as written, in a zone. */
export function dateIn(written: unknown, zone: string): string | undefined {
  const period = asObject(written)
  return readMoment(period === undefined ? written : period.start, zone)?.date
}

/** Examination that the first known of some keys leads to. */
export function directly(keys: readonly (string | undefined)[], ladder: Ladder): Place | undefined {
  for (const key of keys) {
    const examination = ladder.direct(key)
    if (examination) return { examination, rung: 'direct reference' }
  }
  return undefined
}
