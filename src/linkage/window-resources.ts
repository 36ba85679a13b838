import { asNumber, asObject, asObjects, asText, type Json } from '../fhir/json.ts'

/** The resources of one window: unpacked, each once, by type and by `Type/id`. */
export class WindowResources {
  readonly #byType = new Map<string, Map<string, Json>>()
  readonly #listed = new Map<string, readonly Json[]>()

  /**
   * Unpacks Bundles within the list (some servers store whole documents), drops repeats, and keeps the newest version of a
   * resource that came twice. The order of the input makes no difference.
   */
  constructor(resources: readonly unknown[]) {
    for (const resource of resources) this.#add(resource, 0)
  }

  /** Resource of a reference written `Type/id`. */
  at(key: string | undefined): Json | undefined {
    if (key === undefined) return undefined
    const slash = key.indexOf('/')
    return this.#byType.get(key.slice(0, slash))?.get(key.slice(slash + 1))
  }

  /** Resources of a type, in the order of their ids. */
  ofType(type: string): readonly Json[] {
    const listed = this.#listed.get(type)
    if (listed) return listed
    const byId = this.#byType.get(type) ?? new Map<string, Json>()
    const list = inOrder(byId)
    this.#listed.set(type, list)
    return list
  }

  #add(value: unknown, depth: number): void {
    const resource = asObject(value)
    const type = resource?.resourceType
    if (resource === undefined || typeof type !== 'string') return
    if (type === 'Bundle') {
      // Deeper nesting than this has not been met; the limit keeps a hostile body from exhausting the stack.
      if (depth < 5) for (const entry of asObjects(resource.entry)) this.#add(entry.resource, depth + 1)
      return
    }
    let byId = this.#byType.get(type)
    if (byId === undefined) {
      byId = new Map()
      this.#byType.set(type, byId)
    }
    // Without an id nothing can refer to it; a key that no id can be keeps it apart from the others.
    const id = typeof resource.id === 'string' ? resource.id : `/${byId.size}`
    const held = byId.get(id)
    if (held === undefined || isNewer(resource, held)) byId.set(id, resource)
  }
}

/** A pull delivers in order of ids; only what comes otherwise needs sorting. */
function inOrder(byId: ReadonlyMap<string, Json>): Json[] {
  let last = ''
  for (const id of byId.keys()) {
    if (id < last) return [...byId].sort(([one], [other]) => (one < other ? -1 : 1)).map(([, resource]) => resource)
    last = id
  }
  return [...byId.values()]
}

function isNewer(one: Json, other: Json): boolean {
  const version = (resource: Json) => asNumber(asObject(resource.meta)?.versionId) ?? 0
  const updated = (resource: Json) => Date.parse(asText(asObject(resource.meta)?.lastUpdated) ?? '') || 0
  return version(one) !== version(other) ? version(one) > version(other) : updated(one) > updated(other)
}
