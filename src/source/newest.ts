import { NewestVersion } from '../fhir/newest-version.ts'
import type { Resource } from './references.ts'

/** The newest version seen of each resource, by Type/id. */
export class Newest {
  readonly #versions = new NewestVersion<Resource>()
  readonly #bundles: Resource[] = []
  /** Resources that carry no id: without one neither a duplicate nor a reference can be recognised. */
  withoutId = 0

  add(resource: Resource): void {
    const { resourceType, id } = resource
    // A nested Bundle need not have an id; what it holds is unpacked by linkage.
    if (resourceType === 'Bundle' && typeof id !== 'string') this.#bundles.push(resource)
    else if (typeof id !== 'string' || id === '') this.withoutId += 1
    else this.#versions.add(`${resourceType}/${id}`, resource)
  }

  /** Keys of resources that came with different contents, of which nothing says which is the newer. */
  get differing(): ReadonlySet<string> {
    return this.#versions.differing
  }

  has(key: string): boolean {
    return this.#versions.byKey.has(key)
  }

  get(key: string): Resource | undefined {
    return this.#versions.byKey.get(key)
  }

  /** All of them, in an order that does not depend on which answer came first. */
  all(): Resource[] {
    const sorted = [...this.#versions.byKey].sort(([left], [right]) => (left < right ? -1 : left > right ? 1 : 0))
    return [...sorted.map(([, resource]) => resource), ...this.#bundles]
  }
}
