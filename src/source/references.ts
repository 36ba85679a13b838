import { asObject, type Json } from '../fhir/json.ts'

/** A resource as it came: an object that names its type. Nothing else about it has been checked. */
export type Resource = Json & { readonly resourceType: string }

export function isResource(json: unknown): json is Resource {
  return typeof asObject(json)?.resourceType === 'string'
}

const literal =
  /^(?:(?<base>https?:\/\/[^?#]+)\/)?(?<key>[A-Z][A-Za-z]+\/[A-Za-z0-9\-.]{1,64})(?:\/_history\/[A-Za-z0-9\-.]{1,64})?$/

export interface Target {
  /** Type/id, without base and version. */
  readonly key: string
  /** It is a resource of the source that was asked, so it may be read there. */
  readonly here: boolean
}

/**
 * What a reference points at. A reference to another server is not `here`: the same id may be somebody else's there.
 * @returns undefined for contained, conditional, logical and `urn:` references
 */
export function parseReference(reference: string, baseUrl: string): Target | undefined {
  const groups = literal.exec(reference.trim())?.groups
  if (groups?.key === undefined) return undefined
  return { key: groups.key, here: groups.base === undefined || anyScheme(groups.base) === anyScheme(baseUrl) }
}

// Behind a gateway that ends TLS a server may write its own address with http:.
const anyScheme = (url: string): string => url.replace(/^https?:/, '')

/** Every literal reference at or below one element of a resource, in order. */
export function referencesAt(resource: Resource, element: string): string[] {
  const found: string[] = []
  const collect = (json: unknown): void => {
    if (Array.isArray(json)) {
      for (const element of json) collect(element)
      return
    }
    const object = asObject(json)
    if (!object) return
    if (typeof object.reference === 'string') found.push(object.reference)
    for (const name in object) if (typeof object[name] === 'object') collect(object[name])
  }
  collect(resource[element])
  return found
}
