import type { Source } from '../config.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey, referencedIdentifier, referenceKey } from '../fhir/references.ts'
import { containedIn } from './contained.ts'
import type { Resources } from './context.ts'

/**
 * Key of the person behind a reference; undefined for nobody.
 *
 * @param holder the resource that holds the reference: without it a reference to something inside it is nobody
 */
export type PersonKey = (reference: unknown, holder?: Json) => string | undefined

/**
 * Keys of a window's people: identifier system and value where the source names such a system, else source and id; never the
 * name. Organisations, devices and display-only references are nobody; so is a person inside another resource who has no
 * identifier of that system, since an id there means nothing outside. A few people perform everything, so each is worked out
 * once.
 */
export function personKeys(resources: Resources, source: Source): PersonKey {
  const known = new Map<string, string | undefined>()
  const ofIdentifier = identifiedPeople(resources, source)
  return (reference, holder) => {
    const actor = asObject(reference)
    if (actor === undefined) return undefined
    const target = referenceKey(actor)
    if (target !== undefined) {
      if (!known.has(target)) known.set(target, personAt(target, resources, source, ofIdentifier))
      return known.get(target)
    }
    const inside = holder && containedIn(holder, actor)
    return inside ? personInside(inside, holder, resources, source, ofIdentifier) : logicalPerson(actor, ofIdentifier)
  }
}

type OfIdentifier = (system: string, value: string) => string

function personAt(
  target: string,
  resources: Resources,
  source: Source,
  ofIdentifier: OfIdentifier,
): string | undefined {
  // A role leads to its person; a role that leads to a role is malformed, and leads nowhere.
  const person = target.startsWith('PractitionerRole/') ? asObject(resources.at(target)?.practitioner) : undefined
  const key = person === undefined ? target : referenceKey(person)
  if (key === undefined) return person && logicalPerson(person, ofIdentifier)
  return key.startsWith('Practitioner/') ? practitionerKey(key, resources, source) : undefined
}

function personInside(
  inside: Json,
  holder: Json,
  resources: Resources,
  source: Source,
  ofIdentifier: OfIdentifier,
): string | undefined {
  if (inside.resourceType === 'Practitioner') return configuredKey(inside, source)
  if (inside.resourceType !== 'PractitionerRole') return undefined
  const person = asObject(inside.practitioner)
  if (person === undefined) return undefined
  const key = referenceKey(person)
  if (key !== undefined) return key.startsWith('Practitioner/') ? practitionerKey(key, resources, source) : undefined
  const beside = containedIn(holder, person)
  if (beside === undefined) return logicalPerson(person, ofIdentifier)
  return beside.resourceType === 'Practitioner' ? configuredKey(beside, source) : undefined
}

function practitionerKey(key: string, resources: Resources, source: Source): string {
  return configuredKey(resources.at(key), source) ?? `${source.id}/${key}`
}

/** Key by the source's identifier system; undefined where it names none, or the person has none of it. */
function configuredKey(practitioner: Json | undefined, { practitionerSystem }: Source): string | undefined {
  if (practitionerSystem === undefined) return undefined
  for (const { system, use, value } of asObjects(practitioner?.identifier)) {
    const text = system === practitionerSystem && use !== 'old' ? asText(value) : undefined
    if (text !== undefined) return `${practitionerSystem}|${text}`
  }
  return undefined
}

/** A person named by an identifier instead of a resource. */
function logicalPerson(actor: Json, ofIdentifier: OfIdentifier): string | undefined {
  const type = asText(actor.type)
  const reference = asText(actor.reference)
  const isPerson =
    type === undefined
      ? reference === undefined || reference.startsWith('Practitioner?') || reference.includes('/Practitioner/')
      : type === 'Practitioner'
  const identifier = isPerson ? referencedIdentifier(actor) : undefined
  return identifier && ofIdentifier(identifier.system, identifier.value)
}

/**
 * Keys by any identifier: one of another system than the configured one is looked up among the window's practitioners, so
 * that a person named once by identifier and once by resource stays one.
 */
function identifiedPeople(resources: Resources, source: Source): OfIdentifier {
  let index: Map<string, Set<string>> | undefined
  return (system, value) => {
    const written = `${system}|${value}`
    if (system === source.practitionerSystem) return written
    index ??= peopleByIdentifier(resources, source)
    const [key, ...more] = index.get(written) ?? []
    return key !== undefined && more.length === 0 ? key : written
  }
}

function peopleByIdentifier(resources: Resources, source: Source): Map<string, Set<string>> {
  const index = new Map<string, Set<string>>()
  for (const practitioner of resources.ofType('Practitioner')) {
    const own = ownKey(practitioner)
    if (own === undefined) continue
    const key = configuredKey(practitioner, source) ?? `${source.id}/${own}`
    for (const { system, value } of asObjects(practitioner.identifier)) {
      const written = `${asText(system)}|${asText(value)}`
      index.set(written, (index.get(written) ?? new Set()).add(key))
    }
  }
  return index
}
