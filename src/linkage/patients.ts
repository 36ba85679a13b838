import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { ownKey, patientIdentifier, referenceKey } from '../fhir/references.ts'
import { type FeedKind, feedKinds } from '../record/field.ts'
import type { Resources } from './context.ts'

/** Key of the patient behind a reference; undefined for nobody. */
export type PatientKey = (subject: unknown) => string | undefined

/**
 * Keys of a window's patients; merged patients (`Patient.link`) have one key, that of the surviving record. Who is named by an
 * identifier alone is the one person whose record carries it; where no record does, or the records of several people, the
 * identifier is a key of its own, and no record is at it.
 */
export function patientKeys(resources: Resources): PatientKey {
  const survivor = new Map<string, string>()
  for (const patient of resources.ofType('Patient')) {
    const own = ownKey(patient)
    for (const link of asObjects(patient.link)) {
      const other = referenceKey(asObject(link.other))
      if (own === undefined || other === undefined || own === other) continue
      if (link.type === 'replaced-by') survivor.set(own, other)
      if (link.type === 'replaces') survivor.set(other, own)
    }
  }
  const resolve = (key: string): string => {
    let current = key
    // A loop of links must not hang: no chain is longer than the number of links.
    for (let steps = 0; steps <= survivor.size; steps++) {
      const next = survivor.get(current)
      if (next === undefined) return current
      current = next
    }
    return current
  }
  let carriers: Map<string, Set<string>> | undefined
  return (subject) => {
    const key = referenceKey(subject)
    if (key !== undefined) return key.startsWith('Patient/') ? resolve(key) : undefined
    const identifier = patientIdentifier(subject)
    if (identifier === undefined) return undefined
    const name = nameOf(identifier)
    // Few stores name anybody so.
    carriers ??= carriersOf(resources, resolve)
    const [person, ...others] = carriers.get(name) ?? []
    return person !== undefined && others.length === 0 ? person : `Patient?${name}`
  }
}

/**
 * Every record of each patient, by the patient's key: the surviving one first, then those that it replaced. A patient whose
 * surviving record did not come has those that did.
 */
export function patientRecords(resources: Resources, patientKey: PatientKey): (patient: string) => readonly Json[] {
  const replaced = new Map<string, Json[]>()
  for (const record of resources.ofType('Patient')) {
    const own = ownKey(record)
    const patient = own === undefined ? undefined : patientKey({ reference: own })
    if (patient === undefined || patient === own) continue
    const others = replaced.get(patient)
    if (others) others.push(record)
    else replaced.set(patient, [record])
  }
  return (patient) => {
    const survivor = resources.at(patient)
    const others = replaced.get(patient) ?? []
    return survivor === undefined ? others : [survivor, ...others]
  }
}

const nameOf = ({ system, value }: Json): string => `${String(system)}|${String(value)}`

/** Keys of the people whose records carry each identifier. */
function carriersOf(resources: Resources, resolve: (key: string) => string): Map<string, Set<string>> {
  const carriers = new Map<string, Set<string>>()
  for (const patient of resources.ofType('Patient')) {
    const own = ownKey(patient)
    if (own === undefined) continue
    for (const identifier of asObjects(patient.identifier)) {
      const name = nameOf(identifier)
      const people = carriers.get(name)
      if (people) people.add(resolve(own))
      else carriers.set(name, new Set([resolve(own)]))
    }
  }
  return carriers
}

/** Kinds of fact that are told of a patient and not of an examination. */
const ofPatients: readonly FeedKind[] = ['history', 'events', 'visits', 'deaths', 'cancers']

/**
 * Kinds of fact whose silence means nothing where the patient's record is not among what was read: whatever is filed under the
 * patient may be filed under a record that nobody looked at. Of one who is only named by an identifier nothing could be asked by
 * patient at all, so no silence means anything.
 *
 * @param patient key of the patient
 */
export function unheardKinds(patient: string, resources: Resources): readonly FeedKind[] {
  if (resources.at(patient) !== undefined) return []
  return patient.startsWith('Patient/') ? ofPatients : feedKinds
}
