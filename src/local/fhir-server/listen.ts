import { createServer, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Handler } from './server.ts'

export interface Listening {
  /** Origin under which the handler is reached. */
  readonly origin: string
  close(): Promise<void>
}

/**
 * Serves a handler over HTTP on this machine only.
 *
 * @param port 0 takes a free one
 * @throws when the port is taken
 */
export function listen(handler: Handler, port: number): Promise<Listening> {
  const server = createServer((incoming, outgoing) => {
    toRequest(incoming)
      .then(handler)
      .then(async (response) => {
        outgoing.writeHead(response.status, Object.fromEntries(response.headers))
        outgoing.end(await response.text())
      })
      .catch((error: unknown) => {
        console.error(error)
        outgoing.writeHead(500).end()
      })
  })
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, '127.0.0.1', () => {
      const { port: taken } = server.address() as AddressInfo
      resolve({
        origin: `http://127.0.0.1:${taken}`,
        close: () =>
          new Promise((done) => {
            server.close(() => done())
            server.closeAllConnections()
          }),
      })
    })
  })
}

async function toRequest(incoming: IncomingMessage): Promise<Request> {
  const method = incoming.method ?? 'GET'
  const headers = new Headers()
  for (const [name, value] of Object.entries(incoming.headers))
    if (value !== undefined) headers.set(name, Array.isArray(value) ? value.join(', ') : value)
  const url = new URL(incoming.url ?? '/', `http://${incoming.headers.host ?? '127.0.0.1'}`)
  if (method === 'GET' || method === 'HEAD') return new Request(url, { method, headers })
  const parts: Buffer[] = []
  for await (const part of incoming) parts.push(part as Buffer)
  return new Request(url, { method, headers, body: Buffer.concat(parts).toString('utf8') })
}
