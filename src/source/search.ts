import { ReportableError } from '../errors.ts'
import { admit } from './admit.ts'
import { clientFor } from './client.ts'
import type { Connection } from './connection.ts'
import { nextPage } from './next-page.ts'
import { readPage } from './page.ts'
import type { Resource } from './references.ts'
import { Refusal } from './refusal.ts'

export interface Query {
  readonly resourceType: string
  readonly parameters: Readonly<Record<string, string | string[]>>
  /** Whether a row of the type asked for is one the parameters allow: servers silently ignore what they do not know. */
  readonly allows: (row: Resource) => boolean
  /** Most rows per page, where they may be large; the connection's page size by default. */
  readonly rowsPerPage?: number
  /** Give up at the first row that the parameters exclude: the rest of a list that was not filtered is not worth reading. */
  readonly stopWhenIgnored?: true
}

/** What one search brought. Sentences hold no patient data. */
export interface Found {
  readonly rows: readonly Resource[]
  /** Rows of the type asked for that the parameters exclude; they are not among `rows`. */
  readonly excluded: number
  /** Contents of pictures and documents that were left out of the rows. */
  readonly contents: number
  /** Why rows may be missing. */
  readonly incomplete: readonly string[]
  /** What is odd but costs no rows. */
  readonly notes: readonly string[]
  /** The source refused the search, or one of its later pages (then `incomplete` says so); the rows before are kept. */
  readonly refusal?: Refusal
}

/** Consecutive pages without anything new after which a server is taken to be serving the same pages for ever. */
const barrenPages = 3

/**
 * Every page of one search. A missing `next` alone ends it: short pages and `total` do not. What stops it early is told in
 * `incomplete`, never passed over.
 * @throws {ReportableError} source-unreachable, source-timeout, source-not-fhir; a refusal is returned, as the caller knows
 *   what can be spared
 */
export async function search(connection: Connection, query: Query): Promise<Found> {
  const { source, pageSize, maximumPages } = connection
  const { resourceType, parameters } = query
  const about = `Source ${source.id}: the search for ${resourceType} by ${Object.keys(parameters).join(' and ')}`
  const rows: Resource[] = []
  const incomplete = new Set<string>()
  const notes = new Set<string>()
  const seen = new Set<string>()
  const visited = new Set<string>()
  let excluded = 0
  let contents = 0
  let barren = 0
  const found = (refusal?: Refusal): Found => ({
    rows,
    excluded,
    contents,
    incomplete: [...incomplete],
    notes: [...notes],
    ...(refusal && { refusal }),
  })

  const client = clientFor(connection, resourceType)
  const searchParams = { ...parameters, _count: Math.min(pageSize, query.rowsPerPage ?? pageSize) }
  let url = `${source.baseUrl}/${resourceType}`
  let reading: Promise<Resource> = client.search({ resourceType, searchParams })
  for (let pages = 1; ; pages += 1) {
    let body: Resource
    try {
      body = await reading
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      if (pages > 1) incomplete.add(`${about} was refused after ${pages - 1} pages (status ${error.status}).`)
      return found(error)
    }
    const page = readPage(body, resourceType)
    if (!page) {
      throw new ReportableError(
        'source-not-fhir',
        `Source ${source.id}: ${resourceType}: the answer to a search is not a Bundle. Check the configured base address.`,
      )
    }
    if (page.outcomeOnly && page.error) {
      if (pages > 1) incomplete.add(`${about} ended in an error after ${pages - 1} pages.`)
      return found(new Refusal(source.id, resourceType, 200))
    }
    if (page.error) incomplete.add(`${about} came with an error beside its rows.`)
    if (page.warning) notes.add(`${about} came with a warning.`)
    if (pages === 1)
      for (const name of missingFromSelf(page.self, parameters)) {
        notes.add(`Source ${source.id}: by its own account the server ignored ${name} when asked for ${resourceType}.`)
      }

    if (page.self !== undefined) connection.own.learn(page.self, resourceType)
    const before = seen.size
    for (const row of page.rows) {
      contents += admit(row, connection.own)
      seen.add(`${row.resourceType}/${String(row.id)}`)
      if (row.resourceType !== resourceType || query.allows(row)) rows.push(row)
      else excluded += 1
    }
    barren = seen.size > before ? 0 : barren + 1
    if (query.stopWhenIgnored && excluded > 0) return found()

    if (page.next === undefined) {
      if (page.total !== undefined && page.total > seen.size) {
        incomplete.add(`${about} announced ${page.total} rows and delivered ${seen.size}.`)
      }
      return found()
    }
    const next = nextPage(page.next, url, source.baseUrl, resourceType)
    const stop =
      next === undefined
        ? 'gave a link to its next page that cannot be read'
        : visited.has(next.url) || barren >= barrenPages
          ? 'went round in a circle'
          : pages >= maximumPages
            ? `did not end within ${maximumPages} pages`
            : undefined
    if (next === undefined || stop !== undefined) {
      incomplete.add(`${about} ${stop} and was stopped.`)
      return found()
    }
    if (next.rebased)
      notes.add(`Source ${source.id}: links to next pages name another address; they were asked at the configured one.`)
    visited.add(next.url)
    url = next.url
    reading = client.request(url)
  }
}

/** Parameters that the server's `self` link does not repeat: it tells what was really used. Without a link nothing is known. */
function missingFromSelf(self: string | undefined, parameters: Query['parameters']): string[] {
  if (self === undefined || !self.includes('?')) return []
  const used = new Set(new URLSearchParams(self.slice(self.indexOf('?') + 1)).keys())
  return Object.keys(parameters).filter((name) => !used.has(name))
}
