import { asObjects, asText, type Json } from '../fhir/json.ts'

/** Business identifiers of a resource, as `system|value`; one without a system could be anybody's. */
export function identifiersOf({ identifier }: Json): readonly string[] {
  if (identifier === undefined) return none
  return asObjects(identifier).flatMap((one) => {
    const [system, value] = [asText(one.system), asText(one.value)]
    return system === undefined || value === undefined ? [] : [`${system}|${value}`]
  })
}

const none: readonly never[] = []

/**
 * Resources in groups of those that share an identifier: one thing, written down more than once (Observation.identifier,
 * Procedure.identifier: R4). An identifier of the examination itself, such as its accession number, tells nothing apart.
 *
 * @param all Procedure resources of the examination
 */
export function bySharedIdentifier(resources: readonly Json[], all: readonly Json[]): readonly (readonly Json[])[] {
  const groups: { readonly members: Json[]; readonly identifiers: Set<string> }[] = []
  let ofExamination: Set<string> | undefined
  for (const resource of resources) {
    ofExamination ??= resource.identifier === undefined ? undefined : new Set(all.flatMap(identifiersOf))
    const own = identifiersOf(resource).filter((one) => !ofExamination?.has(one))
    const joined = own.length === 0 ? none : groups.filter(({ identifiers }) => own.some((one) => identifiers.has(one)))
    const [first] = joined
    if (first === undefined) {
      groups.push({ members: [resource], identifiers: new Set(own) })
      continue
    }
    first.members.push(resource)
    for (const one of own) first.identifiers.add(one)
    for (const other of joined) {
      if (other === first) continue
      first.members.push(...other.members)
      for (const one of other.identifiers) first.identifiers.add(one)
      groups.splice(groups.indexOf(other), 1)
    }
  }
  return groups.map(({ members }) => members)
}
