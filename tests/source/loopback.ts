import { createServer, type IncomingHttpHeaders } from 'node:http'
import type { AddressInfo } from 'node:net'
import { onTestFinished } from 'vitest'
import type { Source } from '../../src/config.ts'
import type { Pulled } from '../../src/source/pull-window.ts'

export interface Asked {
  /** Path and query as sent, undecoded. */
  readonly url: string
  /** Last part of the path. */
  readonly type: string
  readonly query: URLSearchParams
  readonly headers: IncomingHttpHeaders
}

export interface Answer {
  readonly status?: number
  readonly headers?: Record<string, string>
  /** Text as it is, anything else as JSON; 'hang' never answers, 'cut' closes the connection. */
  readonly body: unknown
}

export interface Loopback {
  /** Address of the server, without path. */
  readonly origin: string
  readonly asked: Asked[]
}

/** A real HTTP server on loopback, closed when the test ends. */
export async function serve(answer: (asked: Asked) => Answer): Promise<Loopback> {
  const asked: Asked[] = []
  const server = createServer((request, response) => {
    const [path = '', query = ''] = (request.url ?? '').split('?')
    const one: Asked = {
      url: request.url ?? '',
      type: path.split('/').at(-1) ?? '',
      query: new URLSearchParams(query),
      headers: request.headers,
    }
    asked.push(one)
    const { status = 200, headers = {}, body } = answer(one)
    if (body === 'hang') return
    if (body === 'cut') return void request.socket.destroy()
    response.writeHead(status, { 'content-type': 'application/fhir+json', ...headers })
    response.end(typeof body === 'string' ? body : JSON.stringify(body))
  })
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening))
  onTestFinished(
    () =>
      new Promise<void>((closed) => {
        server.close(() => closed())
        server.closeAllConnections()
      }),
  )
  return { origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, asked }
}

export function bundle(rows: readonly unknown[], links: Record<string, string> = {}): unknown {
  const link = Object.entries(links).map(([relation, url]) => ({ relation, url }))
  const entry = rows.map((resource) => ({ resource }))
  return {
    resourceType: 'Bundle',
    type: 'searchset',
    ...(link.length > 0 && { link }),
    ...(rows.length > 0 && { entry }),
  }
}

export function procedure(id: string, more: Record<string, unknown> = {}): Record<string, unknown> {
  return {
    resourceType: 'Procedure',
    id,
    status: 'completed',
    code: { coding: [{ system: 'http://snomed.info/sct', code: '73761001' }] },
    performedDateTime: '2026-03-10T09:00:00Z',
    ...more,
  }
}

export function sourceAt(baseUrl: string): Source {
  return {
    id: 'north',
    baseUrl,
    zone: 'UTC',
    units: [],
    completeFeeds: [],
    pathologyLagDays: 60,
    eventLagDays: 0,
    eventsKnownBy: 'not-stated',
    conceptMaps: [],
  }
}

/** The parameters of the R4 search that these tests need, by the element each reads. */
const elements: Record<string, string> = {
  'part-of': 'partOf',
  'based-on': 'basedOn',
  encounter: 'encounter',
  context: 'context',
  patient: 'subject',
  subject: 'subject',
}

/** Answers by the specification from a list of resources; `except` may answer first. */
export function answering(
  resources: readonly Record<string, unknown>[],
  except: (asked: Asked) => Answer | undefined = () => undefined,
) {
  return (asked: Asked): Answer => {
    const special = except(asked)
    if (special) return special
    const rows = resources.filter((row) => {
      if (row.resourceType !== asked.type) return false
      return [...asked.query].every(([name, value]) => {
        if (name === '_id') return value.split(',').includes(String(row.id))
        if (name === 'date:missing') return row.performedDateTime === undefined
        if (name === 'date' && row.resourceType === 'Procedure') return row.performedDateTime !== undefined
        if (name === 'code')
          return value.split(',').some((code) => JSON.stringify(row.code ?? '').includes(`"${code}"`))
        if (name === 'identifier') return value.split(',').some((token) => carries(row, token))
        const element = elements[name]
        return !element || value.split(',').some((target) => JSON.stringify(row[element] ?? '').includes(`${target}"`))
      })
    })
    return { body: bundle(rows) }
  }
}

/** Whether a row has an identifier, given as a token `system|value` whose own commas and bars are escaped. */
const carries = ({ identifier }: Record<string, unknown>, token: string): boolean =>
  ((identifier ?? []) as { system: string; value: string }[]).some(
    ({ system, value }) => [system, value].map((text) => text.replace(/[\\$,|]/g, '\\$&')).join('|') === token,
  )

/** Type/id of everything that was pulled. */
export const keysOf = ({ resources }: Pulled): string[] =>
  resources.map((resource) => {
    const { resourceType, id } = resource as { resourceType: string; id: string }
    return `${resourceType}/${id}`
  })
