import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { NewestVersion, stableText } from '../fhir/newest-version.ts'

/**
 * The resources of one window: unpacked, each once, by type and by `Type/id`. A pull delivers each type in order of ids, so a
 * list that is searched by halving serves; what comes otherwise is put in order first.
 */
export class WindowResources {
  readonly #delivered = new Map<string, Json[]>()
  readonly #ordered = new Map<string, readonly Json[]>()
  readonly #byId = new Map<string, (id: string) => Json | undefined>()
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
    for (let index = 0; index < resources.length; index++) this.#add(resources[index], 0)
  }

  #lastType = ''
  #lastList: Json[] = []

  #add(value: unknown, depth: number): void {
    const resource = asObject(value)
    const type = resource?.resourceType
    if (resource === undefined || typeof type !== 'string') {
      this.unread.push(resource ?? {})
      return
    }
    if (type === 'Bundle') {
      // Deeper nesting than this has not been met; the limit keeps a hostile body from exhausting the stack.
      if (depth < 5) for (const entry of asObjects(resource.entry)) this.#add(entry.resource, depth + 1)
      else this.unread.push(resource)
      return
    }
    // Neighbours are mostly of one type.
    if (type !== this.#lastType) {
      this.#lastType = type
      this.#lastList = this.#delivered.get(type) ?? []
      this.#delivered.set(type, this.#lastList)
    }
    this.#lastList.push(resource)
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
    let find = this.#byId.get(type)
    if (find === undefined) {
      find = finderIn(this.ofType(type))
      this.#byId.set(type, find)
    }
    return find(key.slice(slash + 1))
  }
}

/** Lists longer than this are searched by halving: few of their resources are ever asked for, and an index would hold them all. */
const longList = 4_000

/** @param list in the order of ids */
function finderIn(list: readonly Json[]): (id: string) => Json | undefined {
  if (list.length > longList) return (id) => byHalving(list, id)
  const index = new Map<string, Json>()
  for (const resource of list) {
    const id = idOf(resource)
    if (id !== '') index.set(id, resource)
  }
  return (id) => index.get(id)
}

function byHalving(list: readonly Json[], id: string): Json | undefined {
  let from = 0
  let until = list.length
  while (from < until) {
    const middle = (from + until) >> 1
    if (idOf(list[middle]) < id) from = middle + 1
    else until = middle
  }
  const found = list[from]
  return id !== '' && idOf(found) === id ? found : undefined
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
