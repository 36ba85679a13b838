import { asObject, asText, type Json } from '../fhir/json.ts'
import { keyOf } from '../fhir/references.ts'

/** A resource as it came: an object that names its type. Nothing else about it has been checked. */
export type Resource = Json & { readonly resourceType: string }

export function isResource(json: unknown): json is Resource {
  return typeof asObject(json)?.resourceType === 'string'
}

/** Ids as FHIR allows them, and longer ones and ones with an underscore, as stores have them; nothing that would break a comma list. */
const readable = /^[A-Za-z]+\/[\w.-]{1,128}$/

/**
 * What a reference points at in the source that was asked, as Type/id without version. References to the source's own
 * address have become relative when they came (`admit`), so an absolute one leads to another server.
 * @returns undefined for absolute, contained, conditional, logical and `urn:` references
 */
export function targetOf(reference: string): string | undefined {
  const key = keyOf(asText(reference) ?? '')
  return key !== undefined && readable.test(key) ? key : undefined
}

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

/** Keys of what one element of a resource points at, of one type. */
export function targetsAt(resource: Resource, element: string, type: string): string[] {
  return referencesAt(resource, element).flatMap((reference) => {
    const key = targetOf(reference)
    return key?.startsWith(`${type}/`) ? [key] : []
  })
}
