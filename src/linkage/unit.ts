import type { Source, Unit } from '../config.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referencedIdentifier, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'

/** Unit of a procedure by the source's rules, the strongest kind of rule first; undefined when none matches. */
export function unitOf(procedure: Json, resources: Resources, source: Source): Unit | undefined {
  if (source.units.length === 0) return undefined
  const encounter = resources.byKey.get(referenceKey(procedure.encounter) ?? '')
  const rules = [
    ['procedureLocation', () => [procedure.location]],
    ['encounterLocation', () => asObjects(encounter?.location).map(({ location }) => location)],
    ['serviceProvider', () => [encounter?.serviceProvider]],
    ['onBehalfOf', () => asObjects(procedure.performer).map(({ onBehalfOf }) => onBehalfOf)],
  ] as const
  for (const [rule, references] of rules) {
    if (!source.units.some(({ match }) => match[rule] !== undefined)) continue
    const names = references().flatMap(spellings)
    const unit = source.units.find(({ match }) => match[rule]?.some((name) => names.includes(name)))
    if (unit) return unit
  }
  return undefined
}

/** A reference as `Type/id` and, where it is logical, as `system|value`: a rule may be written either way. */
function spellings(reference: unknown): string[] {
  if (asObject(reference) === undefined) return []
  const key = referenceKey(reference)
  const identifier = referencedIdentifier(reference)
  return [...(key ? [key] : []), ...(identifier ? [`${identifier.system}|${identifier.value}`] : [])]
}
