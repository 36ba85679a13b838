import type { Source, Unit } from '../config.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referencedIdentifier, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'

/** Unit of a procedure by the source's rules, the strongest kind of rule first; undefined when none matches. */
export function unitOf(procedure: Json, resources: Resources, source: Source): Unit | undefined {
  if (source.units.length === 0) return undefined
  const encounter = resources.at(referenceKey(procedure.encounter))
  const { units } = source
  return (
    matching(units, 'procedureLocation', procedure.location) ??
    matchingAny(units, 'encounterLocation', asObjects(encounter?.location), 'location') ??
    matching(units, 'serviceProvider', encounter?.serviceProvider) ??
    matchingAny(units, 'onBehalfOf', asObjects(procedure.performer), 'onBehalfOf')
  )
}

function matchingAny(
  units: readonly Unit[],
  rule: keyof Unit['match'],
  holders: readonly Json[],
  element: string,
): Unit | undefined {
  for (const holder of holders) {
    const unit = matching(units, rule, holder[element])
    if (unit) return unit
  }
  return undefined
}

/** Unit whose rule names a reference: as `Type/id` or, where it is logical, as `system|value`. */
function matching(units: readonly Unit[], rule: keyof Unit['match'], reference: unknown): Unit | undefined {
  if (asObject(reference) === undefined) return undefined
  const key = referenceKey(reference)
  const identifier = key === undefined ? referencedIdentifier(reference) : undefined
  const name = key ?? (identifier && `${identifier.system}|${identifier.value}`)
  return name === undefined ? undefined : units.find(({ match }) => match[rule]?.includes(name))
}
