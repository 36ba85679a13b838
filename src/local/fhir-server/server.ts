import type { FhirResource } from 'fhir/r4'
import { capabilityStatement } from './capability-statement.ts'
import type { Pairs, ServerOptions } from './paging.ts'
import { Refusal } from './refusal.ts'
import { indexResources, type ResourceIndex } from './resource-index.ts'
import { search } from './search.ts'

export type Handler = (request: Request) => Promise<Response>

/**
 * A small read-only FHIR R4 server over resources in memory: metadata, read, and search by GET and POST. It answers as the
 * specification says and refuses what it does not know, so that a client's mistake cannot pass for an answer.
 *
 * @throws {RangeError} when a resource has no id, or two of a type have the same
 */
export function createFhirServer(resources: readonly FhirResource[], options: ServerOptions = {}): Handler {
  const index = indexResources(resources)
  return async function answer(request) {
    try {
      return json(200, await respond(request, index, options))
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      return json(error.status, error.outcome)
    }
  }
}

async function respond(request: Request, index: ResourceIndex, options: ServerOptions): Promise<FhirResource> {
  const url = new URL(request.url)
  const base = options.baseUrl ?? `${url.origin}/fhir`
  const root = new URL(base).pathname
  if (!url.pathname.startsWith(`${root}/`)) throw new Refusal(404, 'not-found', `This server answers under ${root}`)
  if (isUnwanted(request.headers.get('accept')))
    throw new Refusal(406, 'not-supported', 'This server only writes application/fhir+json')
  const [type = '', second, ...more] = url.pathname.slice(root.length + 1).split('/')
  const query = [...url.searchParams]
  if (more.length > 0) throw new Refusal(404, 'not-found', 'Only metadata, reads and searches are answered here')
  if (second === '_search') {
    if (request.method !== 'POST') throw new Refusal(405, 'not-supported', '_search takes POST')
    return search(index, type, [...query, ...(await readForm(request))], base, options)
  }
  if (request.method !== 'GET') throw new Refusal(405, 'not-supported', 'This server only reads')
  if (type === 'metadata' && second === undefined) return capabilityStatement(base)
  if (second === undefined) return search(index, type, query, base, options)
  const resource = index.read(type, second)
  if (resource === undefined) throw new Refusal(404, 'not-found', `There is no ${type}/${second}`)
  return resource
}

function isUnwanted(accept: string | null): boolean {
  return accept !== null && !/\*\/\*|application\/\*|json/.test(accept)
}

async function readForm(request: Request): Promise<Pairs> {
  const type = request.headers.get('content-type') ?? ''
  if (!type.startsWith('application/x-www-form-urlencoded'))
    throw new Refusal(415, 'not-supported', '_search takes application/x-www-form-urlencoded')
  return [...new URLSearchParams(await request.text())]
}

function json(status: number, resource: FhirResource): Response {
  return new Response(JSON.stringify(resource), {
    status,
    headers: { 'content-type': 'application/fhir+json; charset=utf-8' },
  })
}
