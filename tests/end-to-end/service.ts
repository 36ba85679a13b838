import type { FhirResource, MeasureReport, OperationOutcome } from 'fhir/r4'
import { expect } from 'vitest'
import { createApp } from '../../src/app.ts'
import { completenessOf } from '../../src/completeness.ts'
import type { Env } from '../../src/env.ts'
import { evaluate } from '../../src/evaluate.ts'
import { loadDemo } from '../../src/local/demo/demo-data.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { demoAsOf } from '../../src/local/start/source.ts'
import type { FetchSource } from '../../src/source/connection.ts'
import { surveyWiring } from '../../src/survey-wiring.ts'
import { demoBase, demoServer } from '../demo/pull-demo.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { definitions } from '../stories/ask.ts'

/** The demo's server; what it has answered once it answers again at once, as most questions read the same months. */
export function rememberingDemo(): FetchSource {
  const server = demoServer(loadDemo())
  const answers = new Map<string, string>()
  return async (url, init) => {
    const known = answers.get(url)
    if (known !== undefined) return new Response(known)
    const text = await (await server(url, init)).text()
    answers.set(url, text)
    return new Response(text)
  }
}

/** Bindings as the local start command gives them. */
export const demoBindings: Env = {
  SOURCES: JSON.stringify([demoSource(demoBase)]),
  AS_OF: demoAsOf,
  LOCAL_START: 'true',
}

export interface Service {
  /** Any address, as it answers. */
  get(path: string, init?: RequestInit): Promise<Response>
  /** One report, which is valid FHIR. */
  report(measure: string, query: string): Promise<MeasureReport>
  /** Status and only issue of a refusal, which is valid FHIR. */
  refusal(measure: string, query: string): Promise<{ status: number; code: string; diagnostics: string }>
}

/** The whole service over a source, everything real but the network and the clock. */
export function service(fetchSource: FetchSource, bindings: Env = demoBindings): Service {
  const now = () => new Date('2026-09-01T12:00:00Z')
  const app = createApp({
    definitions,
    now,
    evaluate: (request, configuration) => evaluate(request, configuration, { definitions, now, fetchSource }),
    completenessOf: (fields, period, configuration) =>
      completenessOf(fields, period, configuration, { definitions, now, fetchSource }),
    surveyWiring: (request, configuration) => surveyWiring(request, configuration, { definitions, now, fetchSource }),
  })
  const ask = async (measure: string, query: string): Promise<{ status: number; body: FhirResource }> => {
    const response = await app.request(`/fhir/Measure/${measure}/$evaluate-measure?${query}`, {}, bindings)
    expect(response.headers.get('content-type')).toBe('application/fhir+json; charset=utf-8')
    const body = (await response.json()) as FhirResource
    expect(faultsOf(body)).toEqual([])
    return { status: response.status, body }
  }
  return {
    get: async (path, init = {}) => app.request(path, init, bindings),
    async report(measure, query) {
      const { status, body } = await ask(measure, query)
      expect(body).toMatchObject({ resourceType: 'MeasureReport' })
      expect(status).toBe(200)
      return body as MeasureReport
    },
    async refusal(measure, query) {
      const { status, body } = await ask(measure, query)
      const { issue } = body as OperationOutcome
      expect(body.resourceType).toBe('OperationOutcome')
      expect(issue).toHaveLength(1)
      expect(issue[0]?.severity).toBe('error')
      return { status, code: issue[0]?.code ?? '', diagnostics: issue[0]?.diagnostics ?? '' }
    },
  }
}
