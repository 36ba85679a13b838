import type { Source, Unit } from '../config.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referencedIdentifier, referenceKey } from '../fhir/references.ts'

/** Unit of a procedure and its encounter by the source's rules, the strongest kind first; undefined when none matches. */
export function unitOf(procedure: Json, encounter: Json | undefined, source: Source): Unit | undefined {
  const { units } = source
  if (units.length === 0) return undefined
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
