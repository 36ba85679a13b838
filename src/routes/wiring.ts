import { type Context, Hono } from 'hono'
import type { Configuration } from '../env.ts'
import type { WiringReport } from '../wiring/report.ts'
import type { WiringRequest } from '../wiring-request.ts'
import type { AppEnvironment } from './dependencies.ts'
import { periodOf } from './evaluate-parameters.ts'
import { onlyKnown, queryPairs } from './parameters.ts'

/** Anything that Hono can send as a page. */
type Page = Parameters<Context['html']>[0]
/** Statuses that a fault of the service can have. */
type Status = 400 | 401 | 403 | 404 | 405 | 406 | 415 | 422 | 500 | 502 | 504

/** What the wiring routes take from outside. */
export interface WiringDependencies {
  /** @throws {ReportableError} for an unknown source, or one that fails */
  readonly surveyWiring: (request: WiringRequest, configuration: Configuration) => Promise<WiringReport>
  /** The wiring guide as data. */
  readonly guide: () => object
  readonly guidePage: () => Page
  readonly reportPage: (report: WiringReport, configuration: Configuration) => Page
  /** Page for a browser that asks nothing yet: the form. */
  readonly askPage: (configuration: Configuration) => Page
  /** Page for a fault, with the status it has, and the form to ask again. */
  readonly problemPage: (
    error: unknown,
    query: ReadonlyMap<string, string>,
    configuration: Configuration,
  ) => { page: Page; status: Status }
}

const wiringParameters = ['periodStart', 'periodEnd', 'source'] as const

/** How the sources' records fit, and what they should look like: JSON for machines, the same as pages for people. */
export function wiring(deps: WiringDependencies): Hono<AppEnvironment> {
  const routes = new Hono<AppEnvironment>()
  routes.use(async (c, next) => {
    await next()
    c.header('Vary', 'Accept')
  })
  routes.get('/guide', (c) => {
    onlyKnown(queryPairs(c.req), [])
    return wantsPage(c) ? c.html(deps.guidePage()) : c.json(deps.guide())
  })
  routes.get('/', async (c) => {
    const { configuration } = c.var
    const page = wantsPage(c)
    const pairs = queryPairs(c.req)
    if (page && pairs.length === 0) return c.html(deps.askPage(configuration))
    try {
      const report = await deps.surveyWiring(requestOf(pairs), configuration)
      return page ? c.html(deps.reportPage(report, configuration)) : c.json(report)
    } catch (error) {
      if (!page) throw error
      const problem = deps.problemPage(error, new Map(pairs), configuration)
      return c.html(problem.page, problem.status)
    }
  })
  return routes
}

/** @throws {ReportableError} for parameters that are unknown, repeated, missing or no period */
function requestOf(pairs: Iterable<readonly [string, string]>): WiringRequest {
  const values = onlyKnown(pairs, wiringParameters)
  const source = values.get('source')
  return { period: periodOf(values), ...(source !== undefined && { source }) }
}

/** Only a browser names HTML; everybody else gets JSON. A `_format` outranks it. */
function wantsPage(c: Context): boolean {
  if (c.req.query('_format') !== undefined) return false
  return /\btext\/html\b/.test(c.req.header('accept') ?? '')
}
