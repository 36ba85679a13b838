import { asObject, asObjects, asText, type Json } from './json.ts'

/** A leading slash and a type written twice are met in stores, and leave no doubt about what is meant. */
const typeAndId = /^\/?([A-Z][A-Za-z]+)\/(?:\1\/)*([^/?#\s]+)(?:\/_history\/[^/]+)?$/

/**
 * Canonical `Type/id` of a reference within one source: versioned and unversioned spellings of one target become one key.
 * An absolute address is another server's, where the same id may be somebody else's: the source layer has written those of
 * the source's own as `Type/id` before.
 *
 * @returns undefined for absolute, contained, conditional, `urn:` and malformed references
 */
export function referenceKey(reference: unknown): string | undefined {
  const text = asText(asObject(reference)?.reference)
  return text === undefined ? undefined : keyOf(text)
}

/** As {@link referenceKey}, for the text of a reference. */
export function keyOf(text: string): string | undefined {
  if (isTypeAndId(text)) return text
  const match = typeAndId.exec(text)
  return match ? `${match[1]}/${match[2]}` : undefined
}

/** Most references are already `Type/id`, and need no taking apart: capital letter, one slash, nothing of a query. */
function isTypeAndId(text: string): boolean {
  const first = text.charCodeAt(0)
  if (first < 65 || first > 90) return false
  const slash = text.indexOf('/')
  return slash > 0 && slash < 30 && text.indexOf('/', slash + 1) < 0 && text.indexOf('?') < 0
}

const noKeys: readonly string[] = []

/** Keys of everything that an element of some resources refers to, each once. */
export function keysAt(resources: readonly Json[], element: string): readonly string[] {
  let keys: string[] | undefined
  for (const resource of resources) {
    const written = resource[element]
    if (written === undefined) continue
    for (const reference of asObjects(written)) {
      const key = referenceKey(reference)
      if (key === undefined) continue
      if (keys === undefined) keys = [key]
      else if (!keys.includes(key)) keys.push(key)
    }
  }
  return keys ?? noKeys
}

/** `Type/id` of a resource itself; undefined without an id. */
export function ownKey(resource: Json): string | undefined {
  const { resourceType, id } = resource
  return typeof resourceType === 'string' && typeof id === 'string' ? `${resourceType}/${id}` : undefined
}

/** System and value of a conditional reference such as `Practitioner?identifier=system|value`, or of a logical one. */
export function referencedIdentifier(reference: unknown): { system: string; value: string } | undefined {
  const json = asObject(reference)
  const identifier = asObject(json?.identifier)
  const system = asText(identifier?.system)
  const value = asText(identifier?.value)
  if (system !== undefined && value !== undefined) return { system, value }
  const conditional = /\?identifier=([^|&]+)\|([^&]+)/.exec(asText(json?.reference) ?? '')
  if (!conditional?.[1] || !conditional[2]) return undefined
  try {
    return { system: decodeURIComponent(conditional[1]), value: decodeURIComponent(conditional[2]) }
  } catch {
    return undefined // A malformed percent-encoding names nobody.
  }
}

/** As {@link referencedIdentifier}, of a reference that names a patient, or does not say what it names. */
export function patientIdentifier(subject: unknown): { system: string; value: string } | undefined {
  const json = asObject(subject)
  const type = asText(json?.type)
  // A type may be written as the address of its definition.
  if (type !== undefined && type !== 'Patient' && !type.endsWith('/Patient')) return undefined
  const text = asText(json?.reference)
  const query = text === undefined ? -1 : text.indexOf('?')
  if (text !== undefined && query > 0 && !/(?:^|\/)Patient$/.test(text.slice(0, query))) return undefined
  return referencedIdentifier(subject)
}
