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
  const byType = new Map<string, Json[]>()
  const unnamed: Json[] = []
  let ordered = true
  let last = ''
  const file = (type: string, resource: Json): void => {
    const list = byType.get(type)
    if (list) list.push(resource)
    else byType.set(type, [resource])
  }
  const add = (value: unknown, depth: number): void => {
    const resource = asObject(value)
    const type = resource?.resourceType
    if (resource === undefined || typeof type !== 'string') return
    if (type === 'Bundle') {
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
    if (held !== undefined) {
      if (isNewer(resource, held)) byKey.set(key, resource)
      ordered = false
      return
    }
    // A pull delivers in order of keys and each once; only what comes otherwise needs sorting.
    ordered &&= last < key
    last = key
    byKey.set(key, resource)
    file(type, resource)
  }
  for (const resource of resources) add(resource, 0)

  if (!ordered) {
    byType.clear()
    for (const key of [...byKey.keys()].sort()) {
      const resource = byKey.get(key)
      if (resource) file(String(resource.resourceType), resource)
    }
  }
  for (const resource of unnamed) file(String(resource.resourceType), resource)
  return { byKey, ofType: (type) => byType.get(type) ?? [] }
}

function isNewer(one: Json, other: Json): boolean {
  const version = (resource: Json) => asNumber(asObject(resource.meta)?.versionId) ?? 0
  const updated = (resource: Json) => Date.parse(asText(asObject(resource.meta)?.lastUpdated) ?? '') || 0
  return version(one) !== version(other) ? version(one) > version(other) : updated(one) > updated(other)
}
