import { type Context, Hono } from 'hono'
import { ReportableError } from '../errors.ts'
import { capabilityStatement } from '../report/capability-statement.ts'
import { fhirJson, jsonOnly } from './accept.ts'
import type { AppDependencies, AppEnvironment } from './dependencies.ts'
import { evaluateMeasure } from './evaluate-measure.ts'
import { onlyKnown, queryPairs } from './parameters.ts'
import { publishedOf, publishedWithId } from './published.ts'
import { search } from './search.ts'

type Handler = (c: Context<AppEnvironment>, deps: AppDependencies) => Response | Promise<Response>

/** The FHIR interface on one screen. Earlier rows win. */
const table: readonly (readonly [path: string, methods: readonly string[], handler: Handler])[] = [
  ['/metadata', ['GET'], metadata],
  ['/Measure/$evaluate-measure', ['GET', 'POST'], evaluateMeasure],
  ['/Measure/:id/$evaluate-measure', ['GET', 'POST'], evaluateMeasure],
  ['/:type/:id', ['GET'], read],
  ['/:type', ['GET'], searchType],
]

/** The routes under `/fhir`. */
export function fhir(deps: AppDependencies): Hono<AppEnvironment> {
  const routes = new Hono<AppEnvironment>()
  routes.use(jsonOnly)
  for (const [path, methods, handler] of table) {
    routes.on([...methods], path, (c) => handler(c, deps))
    routes.all(path, (c) => refuseMethod(c, methods))
  }
  return routes
}

function metadata(c: Context<AppEnvironment>): Response {
  onlyKnown(queryPairs(c.req), [])
  return answer(c, capabilityStatement(new URL(c.req.url).origin))
}

function read(c: Context<AppEnvironment>, { definitions }: AppDependencies): Response {
  onlyKnown(queryPairs(c.req), [])
  return answer(c, publishedWithId(definitions, c.req.param('type') ?? '', c.req.param('id') ?? ''))
}

function searchType(c: Context<AppEnvironment>, { definitions }: AppDependencies): Response {
  return answer(c, search(publishedOf(definitions, c.req.param('type') ?? ''), c.req.url))
}

const answer = (c: Context<AppEnvironment>, resource: object): Response =>
  c.json(resource, 200, { 'Content-Type': fhirJson })

function refuseMethod(c: Context<AppEnvironment>, methods: readonly string[]): never {
  // RFC 9110, 15.5.6: a 405 lists the methods there are.
  c.header('Allow', methods.includes('GET') ? ['GET', 'HEAD', ...methods.slice(1)].join(', ') : methods.join(', '))
  throw new ReportableError('method-not-allowed', `${c.req.method} is not possible here: use ${methods.join(' or ')}.`)
}
