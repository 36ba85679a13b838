import type { Codes } from '../fhir/codes.ts'
import { readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import type { Examination } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { Survey } from './survey.ts'
import type { ToldByProcedures } from './told-by-procedures.ts'
import type { When } from './told-event.ts'

/** What those are given that read the resources which tell of events. */
export interface Telling {
  readonly reading: Reading
  readonly ladder: Ladder
  readonly patientKey: PatientKey
  readonly byProcedures: ToldByProcedures
  /** Whether a condition is known by the as-of instant, in a zone. */
  readonly isKnownCondition: (condition: Json, zone: string) => boolean
}

/** Everything, each once, to which some keys lead. */
export const from = (
  map: ReadonlyMap<string, readonly Examination[]>,
  keys: readonly (string | undefined)[],
): Examination[] => [...new Set(keys.flatMap((key) => (key === undefined ? [] : (map.get(key) ?? []))))]

/** Where several procedures name its conditions, one of which nobody can tell what it is may be an examination. */
export function elsewhereOf(
  { elsewhere }: ToldByProcedures,
  keys: readonly (string | undefined)[],
): 'another' | 'unclear' | undefined {
  if (elsewhere.size === 0) return undefined
  const meant = keys.map((key) => (key === undefined ? undefined : elsewhere.get(key)))
  return meant.find((one) => one === 'unclear') ?? meant.find((one) => one !== undefined)
}

/** Zone in which an event's dates are read: that of the patient's latest examination that may have come before it. */
export function zoneOf(examinations: readonly Examination[], written: unknown, otherwise: string): string {
  const [first] = examinations
  if (first === undefined) return otherwise
  if (examinations.every(({ zone }) => zone === first.zone)) return first.zone
  const latest = examinations.findLast(({ span, zone }) => {
    const moment = readMoment(written, zone)
    return moment === undefined || spanOf(moment).last >= span.first
  })
  return (latest ?? first).zone
}

/**
 * Whether an event is this window's to list as not understood, so that it is listed once however a period is split: it names
 * an examination that the window owns, or else the window owns the patient's latest one before it.
 */
export function isOfOurs(named: readonly Examination[], when: When | undefined, all: readonly Examination[]): boolean {
  if (named.length > 0) return named[0]?.owned === true
  return all.findLast(({ span }) => when === undefined || span.first <= when.last)?.owned === true
}

/** Codes of R4 that say something, if nothing of how severe an event was. */
const ofNoSeverity: ReadonlySet<unknown> = new Set([
  ...['resolved', 'recovering', 'ongoing', 'resolvedWithSequelae', 'unknown'],
  ...['Serious', 'serious', 'Non-serious', 'non-serious'],
])

/** Takes down those of some elements of an event that are stated by no code we know. */
export function missUnknown(
  resource: Json,
  elements: readonly string[],
  patient: string | undefined,
  codes: Codes,
  survey: Survey,
): void {
  for (const element of elements) {
    const concept = resource[element]
    if (codes.of(concept) !== unknownMeaning) continue
    if (!asObjects(asObject(concept)?.coding).some(({ code }) => ofNoSeverity.has(code)))
      survey.missed(`${String(resource.resourceType)}.${element}`, concept, patient)
  }
}
