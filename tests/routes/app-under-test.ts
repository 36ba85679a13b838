import { readdirSync, readFileSync } from 'node:fs'
import type { FhirResource, OperationOutcome } from 'fhir/r4'
import { type AppDependencies, createApp } from '../../src/app.ts'
import type { Env } from '../../src/env.ts'
import type { EvaluateRequest } from '../../src/evaluate-request.ts'
import type { WiringRequest } from '../../src/wiring-request.ts'
import { publishedMeasure } from '../report/published-measure.ts'
import { detection } from '../report/results.ts'
import { wiringReport } from '../wiring/report.ts'

/** Bindings under which everything is answered: the local start, without a token. */
export const local: Env = {
  FHIR_BASE_URL: 'https://records.example/fhir',
  TIME_ZONE: 'Europe/London',
  LOCAL_START: 'true',
}

const files = readdirSync('measures').filter((name) => name.endsWith('.json') && name !== 'digests.json')
const others = files.filter((name) => !name.startsWith('Measure-'))

export const definitions = {
  measures: files.flatMap((name) => /^Measure-(.+)\.json$/.exec(name)?.[1] ?? []).map(publishedMeasure),
  resources: others.map((name) => JSON.parse(readFileSync(`measures/${name}`, 'utf8')) as FhirResource),
}

/**
 * The app with an evaluation that notes what it is asked and answers with a hand-made result.
 * @param evaluate what to do instead
 * @param surveyWiring what to do instead of answering with a hand-made report
 * @param published definitions to offer instead of those whose criteria are only text
 */
export function appUnderTest(
  evaluate?: AppDependencies['evaluate'],
  surveyWiring?: AppDependencies['surveyWiring'],
  published: AppDependencies['definitions'] = definitions,
) {
  const asked: EvaluateRequest[] = []
  const wiringAsked: WiringRequest[] = []
  const app = createApp({
    definitions: published,
    now: () => new Date('2026-09-01T12:00:00Z'),
    completenessOf: async (fields, period) => ({
      period,
      examinations: 10,
      fields: fields.map((field) => ({ field, recorded: 9, of: 10 })),
    }),
    surveyWiring:
      surveyWiring ??
      (async (request) => {
        wiringAsked.push(request)
        return wiringReport
      }),
    evaluate:
      evaluate ??
      (async (request) => {
        asked.push(request)
        return { ...detection, measure: request.measure, period: request.period }
      }),
  })
  const get = async (path: string, init: RequestInit = {}, env: Env = local): Promise<Response> =>
    app.request(path, init, env)
  return { asked, wiringAsked, get }
}

/** The body of an answer as the resource that the test expects; most tests then validate it. */
export async function bodyOf<Type extends FhirResource>(response: Response): Promise<Type> {
  return (await response.json()) as Type
}

export const diagnosticsOf = async (response: Response): Promise<string | undefined> =>
  (await bodyOf<OperationOutcome>(response)).issue[0]?.diagnostics
