import { readMoment } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import type { FeedKind } from '../record/field.ts'
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

/** What a resource tells of, where it cannot be placed: no silence about that means anything in the examinations it may be of. */
export type Matter = FeedKind | 'course'

/**
 * Finds the examination of one resource by order, encounter, or patient and date. What fits several is listed, placed nowhere, and
 * leaves what it tells of open in each of them.
 */
export type PlaceResource = (resource: Json, ties: Ties, matters: readonly Matter[]) => Place | undefined

/** What gathering is done with. */
export interface Gathering {
  readonly reading: Reading
  readonly ladder: Ladder
  readonly patientKey: PatientKey
  readonly place: PlaceResource
  /** Takes down that a resource fits several examinations, or may be of one: listed, and open there. */
  readonly leaveOpen: (resource: Json, examinations: readonly Examination[], matters: readonly Matter[]) => void
}

/** Statuses of resources that tell of nothing that happened. */
export const voided: ReadonlySet<unknown> = new Set(['entered-in-error', 'cancelled', 'not-done'])

/** References of an element as keys, and as undefined where they lead outside. */
export const keysIn = (value: unknown): readonly (string | undefined)[] => {
  const references = asObjects(value)
  return references.length === 0 ? noKeys : references.map(referenceKey)
}

const noKeys: readonly undefined[] = []

/** Civil date of a FHIR date or period as written, in a zone. */
export function dateIn(written: unknown, zone: string): string | undefined {
  const period = asObject(written)
  return readMoment(period === undefined ? written : period.start, zone)?.date
}

/** Examination that a key leads to. */
export function directlyTo(key: string | undefined, ladder: Ladder): Place | undefined {
  const examination = ladder.direct(key)
  return examination && { examination, rung: 'direct reference' }
}

/** Examination that the first known of some keys leads to. */
export function directly(keys: readonly (string | undefined)[], ladder: Ladder): Place | undefined {
  for (const key of keys) {
    const place = directlyTo(key, ladder)
    if (place) return place
  }
  return undefined
}

/**
 * What partOf says: the examination it leads to; 'another' where it leads to a procedure that is none of ours. Undefined where
 * it leads nowhere that is known (a copy entered in error, a reference that cannot be followed, what is no procedure): then the
 * other rungs are asked.
 */
export function wholeOf(partOf: unknown, { reading, ladder }: Gathering): Place | 'another' | undefined {
  const parts = asObjects(partOf)
  for (const part of parts) {
    const placed = directlyTo(referenceKey(part), ladder)
    if (placed) return placed
  }
  for (const part of parts) {
    const key = referenceKey(part)
    if (!key?.startsWith('Procedure/')) continue
    const whole = reading.resources.at(key)
    if (whole !== undefined && !voided.has(whole.status)) return 'another'
  }
  return undefined
}

/**
 * Whether an encounter says that something is of another stay than an examination's: it is known, it is none of the
 * examination's, and neither is part of the other.
 */
export function ofAnotherStay(
  written: unknown,
  { reading: { resources } }: Gathering,
): ((examination: Examination) => boolean) | undefined {
  const encounter = referenceKey(written)
  const stay = encounter === undefined ? undefined : resources.at(encounter)
  if (encounter === undefined || stay === undefined) return undefined
  const whole = referenceKey(stay.partOf)
  return ({ encounters, stays }) =>
    stays.length > 0 &&
    !encounters.includes(encounter) &&
    !(whole !== undefined && encounters.includes(whole)) &&
    !stays.some(({ partOf }) => referenceKey(partOf) === encounter)
}
