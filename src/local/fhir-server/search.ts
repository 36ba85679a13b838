import type { Bundle, BundleEntry } from 'fhir/r4'
import { type Pairs, readPage, type ServerOptions, writePage } from './paging.ts'
import { type Condition, readCondition } from './query.ts'
import { Refusal } from './refusal.ts'
import type { ResourceIndex, Stored, TypeIndex } from './resource-index.ts'
import { searchParameters, valuesAt } from './search-parameters.ts'

interface Asked {
  readonly filters: Pairs
  readonly count: number
  readonly sorted: boolean
  readonly includes: readonly Join[]
  readonly revIncludes: readonly Join[]
}

interface Join {
  readonly source: string
  readonly parameter: string
  readonly target: string | undefined
}

const defaultCount = 50

/**
 * Answers a search with one page of a searchset.
 *
 * @throws {Refusal} 404 for an unknown type, 400 for anything in the query that this server does not know
 */
export function search(
  resources: ResourceIndex,
  type: string,
  pairs: Pairs,
  base: string,
  options: ServerOptions,
): Bundle {
  const index = resources.ofType(type)
  if (index === undefined) throw new Refusal(404, 'not-supported', `This server has no ${type}`)
  const { offset, asked: query } = readPage(pairs)
  const asked = readQuery(type, query, options)
  const found = arrange(findPositions(type, index, asked.filters, base), index, asked.sorted, options)
  const page = found.slice(offset, offset + asked.count)
  const matches = page.flatMap((position): BundleEntry[] => {
    const entry = toEntry(index.resources[position], base, 'match')
    return entry ? (options.duplicates && position % options.duplicates === 0 ? [entry, entry] : [entry]) : []
  })
  const matched = page.flatMap((position) => index.resources[position] ?? [])
  const entry = [...matches, ...included(resources, matched, asked, base)]
  const next = asked.count > 0 && offset + asked.count < found.length
  return {
    resourceType: 'Bundle',
    type: 'searchset',
    total: found.length,
    link: [
      { relation: 'self', url: `${base}/${type}?${new URLSearchParams(query.map(([name, value]) => [name, value]))}` },
      ...(next ? [{ relation: 'next', url: `${base}/${type}?${writePage(query, offset + asked.count)}` }] : []),
    ],
    // FHIR JSON has no empty lists.
    ...(entry.length > 0 && { entry }),
  }
}

function readQuery(type: string, pairs: Pairs, options: ServerOptions): Asked {
  const filters: (readonly [string, string])[] = []
  const joins = { _include: [] as Join[], _revinclude: [] as Join[] }
  let count = defaultCount
  let sorted = false
  for (const [name, value] of pairs) {
    if (name === '_count') count = readCount(value)
    else if (name === '_sort') sorted = readSort(value)
    else if (name === '_include' || name === '_revinclude') joins[name].push(readJoin(name, value, type))
    else if (name === '_format') readFormat(value)
    else filters.push([name, value])
  }
  return {
    filters,
    count: Math.min(count, options.pageSize ?? 1000),
    sorted,
    includes: joins._include,
    revIncludes: joins._revinclude,
  }
}

function readCount(value: string): number {
  if (!/^\d{1,6}$/.test(value)) throw new Refusal(400, 'invalid', '_count needs a whole number')
  return Number(value)
}

function readSort(value: string): true {
  if (value !== '_id') throw new Refusal(400, 'not-supported', 'Results can only be sorted by _id here')
  return true
}

function readFormat(value: string): void {
  if (!['json', 'application/json', 'application/fhir+json'].includes(value))
    throw new Refusal(406, 'not-supported', 'This server only writes application/fhir+json')
}

/** `Source:parameter` or `Source:parameter:Target`; of the two ends, one is the type that is searched. */
function readJoin(name: '_include' | '_revinclude', value: string, type: string): Join {
  const [source = '', parameter = '', target, ...more] = value.split(':')
  const known = searchParameters[source]?.[parameter]
  const fits = name === '_include' ? source === type : known?.targets?.includes(type)
  if (known?.kind !== 'reference' || more.length > 0 || !fits)
    throw new Refusal(400, 'not-supported', `${name}=${value} is not supported here`)
  return { source, parameter, target }
}

function findPositions(type: string, index: TypeIndex, filters: Pairs, base: string): number[] {
  const conditions = filters.map(([name, value]) => readCondition(type, index, name, value, base))
  // The shortest list of an index is walked, and every other condition asked of what stands in it.
  let first: Condition | undefined
  for (const one of conditions)
    if (one.indexed && one.indexed.most < (first?.indexed?.most ?? Number.POSITIVE_INFINITY)) first = one
  const positions = first?.indexed?.positions() ?? [...index.resources.keys()]
  const others = conditions.filter((one) => one !== first)
  return positions.filter((position) => others.every(({ test }) => test(index, position)))
}

/** In order of id, unless the options ask for another order and the client asked for none. */
function arrange(
  positions: number[],
  index: TypeIndex,
  sorted: boolean,
  { order = 'id', seed = 1 }: ServerOptions,
): number[] {
  if (sorted || order === 'id') return positions
  if (order === 'reversed') return positions.reverse()
  const key = (position: number) => scatter(index.resources[position]?.id ?? '', seed)
  return positions.sort((one, other) => key(one) - key(other) || one - other)
}

/** FNV-1a over the id, begun from the seed: the same shuffled order on every page. */
function scatter(id: string, seed: number): number {
  let hash = (0x811c9dc5 ^ seed) | 0
  for (let at = 0; at < id.length; at++) hash = Math.imul(hash ^ id.charCodeAt(at), 0x01000193)
  return hash >>> 0
}

function included(resources: ResourceIndex, matched: readonly Stored[], asked: Asked, base: string): BundleEntry[] {
  const taken = new Set(matched.map(({ resourceType, id }) => `${resourceType}/${id}`))
  const joined: Stored[] = []
  const take = (resource: Stored | undefined): void => {
    if (resource === undefined || taken.has(`${resource.resourceType}/${resource.id}`)) return
    taken.add(`${resource.resourceType}/${resource.id}`)
    joined.push(resource)
  }
  for (const { source, parameter, target } of asked.includes)
    for (const resource of matched)
      for (const path of searchParameters[source]?.[parameter]?.paths ?? [])
        for (const value of valuesAt(resource, `${path}.reference`)) {
          const [type = '', id = ''] = String(value).split('/')
          if (target === undefined || target === type) take(resources.read(type, id))
        }
  for (const { source, parameter } of asked.revIncludes) {
    const index = resources.ofType(source)
    const found = index?.positions(parameter)
    for (const { resourceType, id } of matched)
      for (const position of found?.get(`${resourceType}/${id}`) ?? []) take(index?.resources[position])
  }
  return joined.flatMap((resource) => toEntry(resource, base, 'include') ?? [])
}

function toEntry(resource: Stored | undefined, base: string, mode: 'match' | 'include'): BundleEntry | undefined {
  return resource && { fullUrl: `${base}/${resource.resourceType}/${resource.id}`, resource, search: { mode } }
}
