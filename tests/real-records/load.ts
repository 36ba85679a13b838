import { readdirSync, readFileSync } from 'node:fs'
import { isDeepStrictEqual } from 'node:util'
import type { Bundle, FhirResource } from 'fhir/r4'

const folder = 'fixtures/real-records'
export type Collection = 'synthea' | 'from-cda' | 'fhir-specification'

/** Names of a collection's files, without `.json`, in order. */
export const namesIn = (collection: Collection): string[] =>
  readdirSync(`${folder}/${collection}`)
    .map((file) => file.replace(/\.json$/, ''))
    .sort()

/** A file as it lies there. */
export const read = (collection: Collection, name: string): FhirResource =>
  JSON.parse(readFileSync(`${folder}/${collection}/${name}.json`, 'utf8')) as FhirResource

/** Every file of a collection as a server would hold it. */
export const load = (collection: Collection): FhirResource[] =>
  toServer(namesIn(collection).map((name) => read(collection, name)))

/**
 * What a FHIR server holds after taking in Bundles and lone resources: `urn:` addresses within a Bundle become Type/id, each
 * resource is there once however many Bundles repeat or nest it, and conditional references stay as they are.
 *
 * @throws {RangeError} when two different resources claim one Type/id, or one has neither id nor `urn:uuid:` address
 */
export function toServer(received: readonly FhirResource[]): FhirResource[] {
  const held = new Map<string, FhirResource>()
  const add = (resource: FhirResource): void => {
    const key = `${resource.resourceType}/${resource.id}`
    const other = held.get(key)
    if (other !== undefined && !isDeepStrictEqual(other, resource))
      throw new RangeError(`two different resources are called ${key}`)
    held.set(key, resource)
  }
  const unpack = (resource: FhirResource): void => {
    if (resource.resourceType !== 'Bundle') add(resource)
    else for (const one of entriesOf(resource)) unpack(one)
  }
  for (const resource of received) unpack(resource)
  return [...held.values()]
}

/** Resources of one Bundle, with ids, and with references between them that a server can follow. */
function entriesOf({ entry: entries = [] }: Bundle): FhirResource[] {
  const addresses = new Map<string, string>()
  const resources = entries.flatMap(({ fullUrl, resource }) => {
    if (resource === undefined) return []
    const id = resource.id ?? /^urn:uuid:(.+)$/.exec(fullUrl ?? '')?.[1]
    if (id === undefined && resource.resourceType !== 'Bundle')
      throw new RangeError(`a ${resource.resourceType} has neither id nor urn:uuid: address`)
    if (fullUrl?.startsWith('urn:')) addresses.set(fullUrl, `${resource.resourceType}/${id}`)
    return [{ ...resource, ...(id !== undefined && { id }) }]
  })
  return resources.map((resource) =>
    // The reviver sees every element; only `reference` holds an address that is meant to be followed.
    JSON.parse(JSON.stringify(resource), (name, value: unknown) =>
      name === 'reference' && typeof value === 'string' ? (addresses.get(value) ?? value) : value,
    ),
  )
}
