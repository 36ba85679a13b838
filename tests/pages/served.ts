import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Hono } from 'hono'
import type { EvaluateRequest } from '../../src/evaluate-request.ts'
import { pages } from '../../src/pages/pages.tsx'
import { harbour, intubation, perforation, unsettled } from './results.ts'

const byMeasure = new Map([harbour, intubation, perforation].map((result) => [result.measure.id, result]))

/** The pages over hand-made results, with the requests that reached the core. */
export function pagesOver(results = byMeasure): { app: Hono; requests: EvaluateRequest[] } {
  const requests: EvaluateRequest[] = []
  const app = pages({
    definitions: { measures: [...results.values()].map(({ measure }) => measure) },
    units: [
      { id: 'harbour', name: 'Harbour Unit', match: {} },
      { id: 'moor', name: 'Moor <Hospital> & "Annexe"', match: {} },
    ],
    latestAsOf: '2026-08-15',
    evaluate: async (request) => {
      requests.push(request)
      const result = request.unit === 'moor' ? unsettled : results.get(request.measure.id)
      if (!result) throw new Error(`no result for ${request.measure.id}`)
      return result
    },
  })
  return { app, requests }
}

/** Serves an app on loopback, on a free port. */
export async function serve(app: {
  request: (url: string, init?: RequestInit) => Response | Promise<Response>
}): Promise<{ address: string; close: () => Promise<void> }> {
  const server = createServer(async (request, response) => {
    const accept = request.headers.accept ?? '*/*'
    const answer = await app.request(`http://localhost${request.url ?? '/'}`, { headers: { accept } })
    response.writeHead(answer.status, Object.fromEntries(answer.headers))
    response.end(Buffer.from(await answer.arrayBuffer()))
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return {
    address: `http://127.0.0.1:${port}`,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  }
}
