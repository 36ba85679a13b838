import { asObject, type Json } from './json.ts'

/**
 * Keeps the newest of several deliveries of one resource: the higher numeric version, then the later update. Where neither tells
 * them apart, the text decides, so that the order of delivery never does; that they differ is remembered.
 */
export class NewestVersion<Resource extends Json = Json> {
  readonly #byKey = new Map<string, Resource>()
  readonly #differing = new Set<string>()

  add(key: string, resource: Resource): void {
    const held = this.#byKey.get(key)
    if (held === resource) return
    const order = held === undefined ? 1 : compareVersions(resource, held)
    if (order > 0) {
      this.#byKey.set(key, resource)
      this.#differing.delete(key)
    } else if (order === 0 && JSON.stringify(resource) !== JSON.stringify(held)) {
      const [one, other] = [stableText(resource), stableText(held)]
      if (one === other) return
      this.#differing.add(key)
      if (one > other) this.#byKey.set(key, resource)
    }
  }

  get byKey(): ReadonlyMap<string, Resource> {
    return this.#byKey
  }

  /** Keys of resources that came with different contents, of which nothing says which is the newer. */
  get differing(): ReadonlySet<string> {
    return this.#differing
  }
}

/** JSON text that is the same for the same content, in whatever order its elements are written. */
export const stableText = (value: unknown): string =>
  JSON.stringify(value, (_, inner: unknown) => {
    const object = asObject(inner)
    return object === undefined ? inner : Object.fromEntries(Object.entries(object).sort(byName))
  }) ?? ''

const byName = ([one]: [string, unknown], [other]: [string, unknown]): number => (one < other ? -1 : 1)

/** Positive where one is the newer, 0 where nothing tells. What has a version, or an update, is newer than what has none. */
function compareVersions(one: Json, other: Json): number {
  const [left, right] = [versionOf(one), versionOf(other)]
  return left.version === right.version ? left.updated - right.updated : left.version - right.version
}

function versionOf({ meta }: Json): { version: number; updated: number } {
  const { versionId, lastUpdated } = asObject(meta) ?? {}
  const written = typeof versionId === 'number' ? String(versionId) : versionId
  const instant = typeof lastUpdated === 'string' ? Date.parse(lastUpdated) : Number.NaN
  return {
    version: typeof written === 'string' && /^\s*\d+\s*$/.test(written) ? Number(written) : -1,
    updated: Number.isNaN(instant) ? -8.64e15 : instant,
  }
}
