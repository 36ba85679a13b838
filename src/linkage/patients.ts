import { asObject, asObjects } from '../fhir/json.ts'
import { ownKey, referencedIdentifier, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'

/** Key of the patient behind a reference; undefined for nobody. */
export type PatientKey = (subject: unknown) => string | undefined

/** Keys of a window's patients; merged patients (`Patient.link`) have one key, that of the surviving record. */
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
  return (subject) => {
    const key = referenceKey(subject)
    if (key !== undefined) return key.startsWith('Patient/') ? resolve(key) : undefined
    const identifier = referencedIdentifier(subject)
    return identifier && `Patient?${identifier.system}|${identifier.value}`
  }
}
