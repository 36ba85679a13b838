import type { FhirResource } from 'fhir/r4'
import { type DateRange, rangeOf } from './date-range.ts'
import { type SearchParameter, searchParameters, valuesAt } from './search-parameters.ts'

/** A resource that has an id, as everything on a server has. */
export type Stored = FhirResource & { readonly id: string }

/**
 * The resources of one type in order of id, with an index for each parameter, made when it is first asked for. Positions
 * in that order stand for resources.
 */
export interface TypeIndex {
  readonly resources: readonly Stored[]
  /** Positions by `system|code`, `|code` and bare code; or by `Type/id` for a reference. */
  positions(name: string): ReadonlyMap<string, readonly number[]>
  /** The same keys, by position. */
  keys(name: string): readonly (readonly string[])[]
  /** Stretches of time by position. */
  ranges(name: string): readonly (readonly DateRange[])[]
}

export interface ResourceIndex {
  /** undefined for a type that this server does not hold. */
  ofType(type: string): TypeIndex | undefined
  read(type: string, id: string): Stored | undefined
}

/** @throws {RangeError} when a resource has no id, or two have the same */
export function indexResources(resources: readonly FhirResource[]): ResourceIndex {
  const byType = new Map<string, Map<string, Stored>>(Object.keys(searchParameters).map((type) => [type, new Map()]))
  for (const resource of resources) {
    const { resourceType, id } = resource
    const group = byType.get(resourceType) ?? new Map<string, Stored>()
    byType.set(resourceType, group)
    if (id === undefined || group.has(id))
      throw new RangeError(`indexResources requires ids that are given and unique: ${resourceType}/${id}`)
    group.set(id, resource as Stored)
  }
  const indexes = new Map<string, TypeIndex>()
  return {
    ofType(type) {
      const group = byType.get(type)
      if (group === undefined || searchParameters[type] === undefined) return undefined
      const index = indexes.get(type) ?? indexType(type, [...group.values()])
      indexes.set(type, index)
      return index
    },
    read: (type, id) => byType.get(type)?.get(id),
  }
}

function indexType(type: string, unordered: readonly Stored[]): TypeIndex {
  const resources = [...unordered].sort((one, other) => (one.id < other.id ? -1 : 1))
  const known = searchParameters[type] ?? {}
  const positions = new Map<string, Map<string, number[]>>()
  const keys = new Map<string, readonly string[][]>()
  const ranges = new Map<string, DateRange[][]>()
  return {
    resources,
    positions(name) {
      const made = positions.get(name) ?? indexKeys(resources, known[name])
      positions.set(name, made)
      return made
    },
    keys(name) {
      const made = keys.get(name) ?? keysByPosition(this.positions(name), resources.length)
      keys.set(name, made)
      return made
    },
    ranges(name) {
      const made =
        ranges.get(name) ??
        resources.map((resource) =>
          (known[name]?.paths ?? [])
            .flatMap((path) => valuesAt(resource, path))
            .flatMap((value) => rangeOf(value) ?? []),
        )
      ranges.set(name, made)
      return made
    },
  }
}

/** The index the other way round: the keys of each resource, by its position. */
function keysByPosition(positions: ReadonlyMap<string, readonly number[]>, length: number): readonly string[][] {
  const keys: string[][] = Array.from({ length }, () => [])
  for (const [key, list] of positions) for (const position of list) keys[position]?.push(key)
  return keys
}

function indexKeys(resources: readonly Stored[], parameter: SearchParameter | undefined): Map<string, number[]> {
  const index = new Map<string, number[]>()
  resources.forEach((resource, position) => {
    const values = (parameter?.paths ?? []).flatMap((path) => valuesAt(resource, path))
    const keys = new Set(
      values.flatMap((value) => (parameter?.kind === 'reference' ? referenceKeys(value) : tokenKeys(value))),
    )
    for (const key of keys) {
      const list = index.get(key)
      if (list) list.push(position)
      else index.set(key, [position])
    }
  })
  return index
}

function referenceKeys(value: unknown): string[] {
  const { reference } = value as { reference?: unknown }
  return typeof reference === 'string' ? [reference] : []
}

/** Keys under which a code, Coding, CodeableConcept or Identifier is found. */
function tokenKeys(value: unknown): string[] {
  if (typeof value === 'string') return [value, `|${value}`]
  if (typeof value !== 'object' || value === null) return []
  const { coding, system, code, value: identifier } = value as Record<string, unknown>
  if (Array.isArray(coding)) return coding.flatMap(tokenKeys)
  const said = typeof code === 'string' ? code : typeof identifier === 'string' ? identifier : undefined
  const within = typeof system === 'string' ? system : ''
  if (said === undefined) return within === '' ? [] : [`${within}|`]
  return within === '' ? [said, `|${said}`] : [said, `${within}|${said}`, `${within}|`]
}
