import type { Source, Unit } from '../config.ts'
import { type CivilSpan, civilDate, isKnownBy, type Moment, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, asText, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { PatientKey } from './patients.ts'
import type { Performed, Reading } from './reading.ts'
import { unitOf } from './unit.ts'

/** A Procedure with a colonoscopy's code, as far as it says by itself when and where it was done, and to whom. */
export interface Candidate {
  readonly procedure: Json
  readonly code: Meaning
  readonly key: string | undefined
  readonly patient: string | undefined
  readonly encounter: string | undefined
  readonly stay: Json | undefined
  readonly unit: Unit | undefined
  readonly zone: string
  /** Civil dates on which it may have begun; absent without a date. */
  readonly span: CivilSpan | undefined
  readonly times: Times
}

/** Milliseconds since 1970. */
export interface Times {
  readonly start: number | undefined
  /** Absent where none is written, or one before the start. */
  readonly end: number | undefined
}

/** A candidate that is an examination, or one of several resources of one. */
export interface Counted extends Candidate {
  readonly key: string
  readonly patient: string
  readonly span: CivilSpan
}

export function readCandidate(
  { resource: procedure, code }: Performed,
  { resources }: Reading,
  patientKey: PatientKey,
  source: Source,
): Candidate {
  const encounter = referenceKey(procedure.encounter)
  const stay = encounter === undefined ? undefined : resources.at(encounter)
  const unit = unitOf(procedure, stay, source)
  const zone = unit?.zone ?? source.zone
  const began = beganAt(procedure, zone)
  return {
    procedure,
    code,
    key: ownKey(procedure),
    patient: patientKey(procedure.subject),
    encounter,
    stay,
    unit,
    zone,
    span: began && spanOf(began),
    times: timesOf(procedure, zone, began),
  }
}

/** When a procedure began, as written. */
export const writtenStart = ({ performedPeriod, performedDateTime }: Json): unknown =>
  asObject(performedPeriod)?.start ?? performedDateTime

export const beganAt = (procedure: Json, zone: string): Moment | undefined => readMoment(writtenStart(procedure), zone)

/** Times of a procedure, read in a zone: it matters only where they are written without one. */
export function timesOf(procedure: Json, zone: string, began = beganAt(procedure, zone)): Times {
  const start = began?.instant
  const end = start === undefined ? undefined : readMoment(asObject(procedure.performedPeriod)?.end, zone)?.instant
  return { start, end: end !== undefined && start !== undefined && end >= start ? end : undefined }
}

/** Longest that an examination can take, in milliseconds: an end after that is a slip, or of the whole stay. */
export const longest = 12 * 3_600_000

export const isPlausible = ({ start, end }: Times): boolean =>
  start !== undefined && end !== undefined && end - start <= longest

/** Last civil date of an examination, in a zone. */
export function lastDayOf(last: string, times: Times, zone: string): string {
  if (times.end === undefined || !isPlausible(times)) return last
  const date = civilDate(times.end, zone)
  return date > last ? date : last
}

const counted = new Set(['completed', 'stopped'])
const refused: Readonly<Record<string, string>> = {
  'entered-in-error': 'entered in error',
  'not-done': 'not done',
  preparation: 'not finished',
  'in-progress': 'not finished',
  'on-hold': 'not finished',
}

/** Why the status of a procedure keeps it out of every figure; undefined where it does not. */
export function refusalOf({ procedure }: Candidate): string | undefined {
  const status = asText(procedure.status) ?? 'unknown'
  return counted.has(status) ? undefined : (refused[status] ?? 'status unknown')
}

/** Whether it was already performed, for all that was known by the as-of instant. */
export const isKnown = ({ procedure, zone }: Candidate, asOf: number): boolean =>
  isKnownBy(writtenStart(procedure), asOf, zone)

export const isCoarse = ({ first, last }: CivilSpan): boolean => first !== last
