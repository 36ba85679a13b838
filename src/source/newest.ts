import { asObject } from '../fhir/json.ts'
import type { Resource } from './references.ts'

/** The newest version seen of each resource, by Type/id. */
export class Newest {
  readonly #byKey = new Map<string, Resource>()
  readonly #bundles: Resource[] = []
  /** Resources that carry no id: without one neither a duplicate nor a reference can be recognised. */
  withoutId = 0

  add(resource: Resource): void {
    const { resourceType, id } = resource
    // A nested Bundle need not have an id; what it holds is unpacked by linkage.
    if (resourceType === 'Bundle' && typeof id !== 'string') this.#bundles.push(resource)
    else if (typeof id !== 'string' || id === '') this.withoutId += 1
    else {
      const key = `${resourceType}/${id}`
      const seen = this.#byKey.get(key)
      if (!seen || isNewer(resource, seen)) this.#byKey.set(key, resource)
    }
  }

  has(key: string): boolean {
    return this.#byKey.has(key)
  }

  get(key: string): Resource | undefined {
    return this.#byKey.get(key)
  }

  /** All of them, in an order that does not depend on which answer came first. */
  all(): Resource[] {
    const sorted = [...this.#byKey].sort(([left], [right]) => (left < right ? -1 : left > right ? 1 : 0))
    return [...sorted.map(([, resource]) => resource), ...this.#bundles]
  }
}

/** Higher numeric version first, then later update; where neither decides, the one that was seen first stays. */
function isNewer(candidate: Resource, seen: Resource): boolean {
  const [left, right] = [versionOf(candidate), versionOf(seen)]
  if (left.version !== undefined && right.version !== undefined && left.version !== right.version) {
    return left.version > right.version
  }
  return left.updated > right.updated
}

function versionOf(resource: Resource): { version?: number; updated: number } {
  const { versionId, lastUpdated } = asObject(resource.meta) ?? {}
  const instant = typeof lastUpdated === 'string' ? Date.parse(lastUpdated) : Number.NaN
  const updated = Number.isNaN(instant) ? Number.NEGATIVE_INFINITY : instant
  return typeof versionId === 'string' && /^\d+$/.test(versionId)
    ? { version: Number(versionId), updated }
    : { updated }
}
