import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Reading } from './reading.ts'

/** Kinds of visit that count; a word of the class that is none of them is known to be no hospital visit. */
const ofHospital: ReadonlySet<string> = new Set(['emergency', 'observation', 'inpatient', 'short-stay'])
const notTaken: ReadonlySet<unknown> = new Set(['planned', 'cancelled', 'entered-in-error'])

/**
 * Kind of hospital visit that an encounter is by its class: 'unknown' for a class that no code we know names, undefined for
 * what is no hospital visit or never took place.
 */
export function kindOfVisit({ class: written, status }: Json, { codes }: Reading): string | undefined {
  const kind = codes.wordOfCoding(written, 'visit-class')
  if (notTaken.has(status)) return undefined
  return kind === undefined ? 'unknown' : ofHospital.has(kind) ? kind : undefined
}

/** Encounters in which a colonoscopy was done or begun, and those that they are part of. */
export function encountersOfColonoscopies({ resources, codes }: Reading): ReadonlySet<string> {
  const keys = new Set<string>()
  for (const procedure of resources.ofType('Procedure')) {
    const { encounter, status } = procedure
    if (encounter === undefined || status === 'entered-in-error' || status === 'not-done') continue
    if (!codes.in(procedure.code, 'colonoscopy')) continue
    let key = referenceKey(encounter)
    while (key !== undefined && !keys.has(key)) {
      keys.add(key)
      key = referenceKey(resources.at(key)?.partOf)
    }
  }
  return keys
}

/** Whether an encounter lies within one of a colonoscopy, or within another that is counted as a visit itself. */
export function isPartOfAnother(encounter: Json, reading: Reading, own: ReadonlySet<string>): boolean {
  const seen = new Set<string>()
  let key = referenceKey(encounter.partOf)
  while (key !== undefined && !seen.has(key)) {
    seen.add(key)
    if (own.has(key)) return true
    const parent = reading.resources.at(key)
    const kind = parent && kindOfVisit(parent, reading)
    if (kind !== undefined && kind !== 'unknown') return true
    key = referenceKey(parent?.partOf)
  }
  return false
}

/** Whether the status says that it took place: one that is not known may be of a visit that never was. */
export const hasTakenPlace = ({ status }: Json): boolean => asText(status) !== undefined && status !== 'unknown'

/**
 * An emergency, an admission by way of the emergency department and an urgent one were not planned; an appointment, or an
 * elective or routine priority, says that the visit was. What nothing says is not recorded.
 */
export function wasPlanned(encounter: Json, kind: string, { codes }: Reading): boolean | undefined {
  if (kind === 'emergency') return false
  const priority = codes.word(encounter.priority, 'visit-planning')
  const source = codes.word(asObject(encounter.hospitalization)?.admitSource, 'visit-planning')
  if (priority === 'unplanned' || source === 'unplanned') return false
  return priority === 'planned' || source === 'planned' || asObjects(encounter.appointment).length > 0 || undefined
}
