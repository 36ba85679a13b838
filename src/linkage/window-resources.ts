import { asNumber, asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'

/** The resources of one window: unpacked, each once, by type and by `Type/id`. */
export interface WindowResources {
  readonly byKey: ReadonlyMap<string, Json>
  ofType(type: string): readonly Json[]
}

/**
 * Unpacks Bundles within the list (some servers store whole documents), drops repeats, and keeps the newest version of a
 * resource that came twice. The order of the input makes no difference.
 */
export function windowResources(resources: readonly unknown[]): WindowResources {
  const byKey = new Map<string, Json>()
  const unnamed: Json[] = []
  let ordered = true
  let last = ''
  const add = (value: unknown, depth: number): void => {
    const resource = asObject(value)
    if (resource === undefined || typeof resource.resourceType !== 'string') return
    if (resource.resourceType === 'Bundle') {
      // Deeper nesting than this has not been met; the limit keeps a hostile body from exhausting the stack.
      if (depth < 5) for (const entry of asObjects(resource.entry)) add(entry.resource, depth + 1)
      return
    }
    const key = ownKey(resource)
    if (key === undefined) {
      unnamed.push(resource)
      return
    }
    const held = byKey.get(key)
    if (held === undefined) {
      // A pull delivers in order of keys; only what comes otherwise needs sorting.
      ordered &&= last < key
      last = key
    }
    if (held === undefined || isNewer(resource, held)) byKey.set(key, resource)
  }
  for (const resource of resources) add(resource, 0)

  const byType = new Map<string, Json[]>()
  const file = (resource: Json) => {
    const type = resource.resourceType as string
    const list = byType.get(type)
    if (list) list.push(resource)
    else byType.set(type, [resource])
  }
  if (ordered) for (const resource of byKey.values()) file(resource)
  else for (const key of [...byKey.keys()].sort()) file(byKey.get(key) as Json)
  for (const resource of unnamed) file(resource)
  return { byKey, ofType: (type) => byType.get(type) ?? [] }
}

function isNewer(one: Json, other: Json): boolean {
  const version = (resource: Json) => asNumber(asObject(resource.meta)?.versionId) ?? 0
  const updated = (resource: Json) => Date.parse(asText(asObject(resource.meta)?.lastUpdated) ?? '') || 0
  return version(one) !== version(other) ? version(one) > version(other) : updated(one) > updated(other)
}
