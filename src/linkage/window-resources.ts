import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { NewestVersion, stableText } from '../fhir/newest-version.ts'

/**
 * The resources of one window: unpacked, each once, by type and by `Type/id`. A pull delivers each type in order of ids, so a
 * list that is searched by halving serves; what comes otherwise is put in order first.
 */
export class WindowResources {
  readonly #delivered = new Map<string, Json[]>()
  readonly #ordered = new Map<string, readonly Json[]>()
  readonly #byId = new Map<string, Map<string, Json>>()
  /** What came and is not read: it has no type, or is a Bundle in too many Bundles. */
  readonly unread: Json[] = []
  /** Of these another content came too, and nothing says which is the newer: filled as types are asked for. */
  readonly differing = new Set<Json>()

  /**
   * Unpacks Bundles within the list (some servers store whole documents), drops repeats, and keeps the newest version of a
   * resource that came twice. The order of the input makes no difference. Of resources without an id, those that say the very
   * same are one.
   */
  constructor(resources: readonly unknown[]) {
    let lastType = ''
    let list: Json[] = []
    const add = (value: unknown, depth: number): void => {
      const resource = asObject(value)
      const type = resource?.resourceType
      if (resource === undefined || typeof type !== 'string') {
        this.unread.push(resource ?? {})
        return
      }
      if (type === 'Bundle') {
        // Deeper nesting than this has not been met; the limit keeps a hostile body from exhausting the stack.
        if (depth < 5) for (const entry of asObjects(resource.entry)) add(entry.resource, depth + 1)
        else this.unread.push(resource)
        return
      }
      // Neighbours are mostly of one type.
      if (type !== lastType) {
        lastType = type
        list = this.#delivered.get(type) ?? []
        this.#delivered.set(type, list)
      }
      list.push(resource)
    }
    for (const resource of resources) add(resource, 0)
  }

  /** Resources of a type, in the order of their ids; those without an id, to which nothing can refer, come first. */
  ofType(type: string): readonly Json[] {
    const known = this.#ordered.get(type)
    if (known) return known
    const delivered = this.#delivered.get(type) ?? []
    const list = isInOrder(delivered) ? delivered : newestOfEach(delivered, this.differing)
    this.#ordered.set(type, list)
    return list
  }

  /** Resource of a reference written `Type/id`. */
  at(key: string | undefined): Json | undefined {
    if (key === undefined) return undefined
    const slash = key.indexOf('/')
    const type = key.slice(0, slash)
    let index = this.#byId.get(type)
    if (index === undefined) {
      index = new Map()
      for (const resource of this.ofType(type)) {
        const id = idOf(resource)
        if (id !== '') index.set(id, resource)
      }
      this.#byId.set(type, index)
    }
    return index.get(key.slice(slash + 1))
  }
}

const idOf = (resource: Json | undefined): string => (typeof resource?.id === 'string' ? resource.id : '')

/** Whether every resource has an id and each comes after the one before. */
function isInOrder(resources: readonly Json[]): boolean {
  let last = ''
  for (const resource of resources) {
    const id = idOf(resource)
    if (id <= last) return false
    last = id
  }
  return true
}

/**
 * The newest version of each; of those without an id, which cannot be told apart otherwise, each that says something else.
 *
 * @param differing takes the resources of which two contents came, and nothing says which is the newer
 */
function newestOfEach(resources: readonly Json[], differing: Set<Json>): Json[] {
  const newest = new NewestVersion()
  const unnamed = new Map<string, Json>()
  for (const resource of resources) {
    const id = idOf(resource)
    if (id === '') unnamed.set(stableText(resource), resource)
    else newest.add(id, resource)
  }
  const named = [...newest.byKey].sort(byName)
  for (const [id, resource] of named) if (newest.differing.has(id)) differing.add(resource)
  return [...[...unnamed].sort(byName), ...named].map(([, resource]) => resource)
}

const byName = ([one]: [string, Json], [other]: [string, Json]): number => (one < other ? -1 : 1)
