import { type Context, Hono } from 'hono'
import type { Configuration } from '../env.ts'
import type { WiringReport } from '../wiring/report.ts'
import type { WiringRequest } from '../wiring-request.ts'
import type { AppEnvironment } from './dependencies.ts'
import { periodOf } from './evaluate-parameters.ts'
import { onlyKnown, queryPairs } from './parameters.ts'

/** Anything that Hono can send as a page. */
type Page = Parameters<Context['html']>[0]

/** What the wiring routes take from outside. */
export interface WiringDependencies {
  /** @throws {ReportableError} for an unknown source, or one that fails */
  readonly surveyWiring: (request: WiringRequest, configuration: Configuration) => Promise<WiringReport>
  /** The wiring guide as data. */
  readonly guide: () => object
  readonly reportPage: (report: WiringReport, sources: readonly string[]) => Page
  readonly guidePage: () => Page
  /** Page for a fault, with the status it has, and the form to ask again. */
  readonly problemPage: (
    error: unknown,
    query: ReadonlyMap<string, string>,
  ) => { page: Page; status: 400 | 403 | 404 | 500 | 502 | 503 | 504 }
}

export const wiringParameters = ['periodStart', 'periodEnd', 'source'] as const

/** How the sources' records fit, and what they should look like: JSON for machines, the same as pages for people. */
export function wiring(deps: WiringDependencies): Hono<AppEnvironment> {
  const routes = new Hono<AppEnvironment>()
  routes.get('/guide', (c) => (wantsPage(c) ? c.html(deps.guidePage()) : c.json(deps.guide())))
  routes.get('/', async (c) => {
    c.header('Vary', 'Accept')
    const page = wantsPage(c)
    try {
      const configuration = c.get('configuration')
      const values = onlyKnown(queryPairs(c.req), wiringParameters)
      const source = values.get('source')
      const report = await deps.surveyWiring({ period: periodOf(values), ...(source && { source }) }, configuration)
      return page
        ? c.html(
            deps.reportPage(
              report,
              configuration.sources.map(({ id }) => id),
            ),
          )
        : c.json(report)
    } catch (error) {
      if (!page) throw error
      const problem = deps.problemPage(error, new Map(queryPairs(c.req)))
      return c.html(problem.page, problem.status)
    }
  })
  return routes
}

/** A browser names HTML before anything else; everybody else gets JSON. `_format=json` outranks it. */
function wantsPage(c: Context): boolean {
  if (c.req.query('_format') !== undefined) return false
  return /\btext\/html\b/.test(c.req.header('accept') ?? '')
}
