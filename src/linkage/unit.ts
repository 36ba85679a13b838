import type { Source, Unit } from '../config.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referencedIdentifier, referenceKey } from '../fhir/references.ts'

/** A procedure, and its encounter where that was found. */
interface Visit {
  readonly procedure: Json
  readonly stay: Json | undefined
}

/** Unit by one kind of the source's rules. */
type Rule = (units: readonly Unit[], procedure: Json, encounter: Json | undefined) => Unit | undefined

/** The strongest kind first. */
const rules: readonly Rule[] = [
  (units, procedure) => matching(units, 'procedureLocation', procedure.location),
  (units, _, encounter) => matchingAny(units, 'encounterLocation', asObjects(encounter?.location), 'location'),
  (units, _, encounter) => matching(units, 'serviceProvider', encounter?.serviceProvider),
  (units, procedure) => matchingAny(units, 'onBehalfOf', asObjects(procedure.performer), 'onBehalfOf'),
]

/** Unit of a procedure and its encounter by the source's rules, the strongest kind first; undefined when none matches. */
export function unitOf(procedure: Json, encounter: Json | undefined, { units }: Source): Unit | undefined {
  if (units.length === 0) return undefined
  for (const rule of rules) {
    const unit = rule(units, procedure, encounter)
    if (unit) return unit
  }
  return undefined
}

/** Unit of several resources of one examination: the strongest kind of rule that any of them meets decides, then their order. */
export function unitOfAll(visits: readonly Visit[], { units }: Source): Unit | undefined {
  if (units.length === 0) return undefined
  for (const rule of rules)
    for (const { procedure, stay } of visits) {
      const unit = rule(units, procedure, stay)
      if (unit) return unit
    }
  return undefined
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
  const name = asObject(reference) === undefined ? undefined : nameOf(reference)
  return name === undefined ? undefined : units.find(({ match }) => match[rule]?.includes(name))
}

/** What a rule names a place by: `Type/id` or, where the reference is logical, `system|value`. */
export function nameOf(reference: unknown): string | undefined {
  const key = referenceKey(reference)
  const identifier = key === undefined ? referencedIdentifier(reference) : undefined
  return key ?? (identifier && `${identifier.system}|${identifier.value}`)
}
