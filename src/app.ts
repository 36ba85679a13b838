import { Hono } from 'hono'
import { bodyLimit } from 'hono/body-limit'
import { type Configuration, type Env, readConfiguration } from './env.ts'
import { ReportableError } from './errors.ts'
import { toOutcome } from './outcome.ts'
import { measureListPage, measurePage } from './pages/measure-pages.tsx'
import { pageHeaders } from './pages/page-headers.ts'
import { pages } from './pages/pages.tsx'
import { wiringPages } from './pages/wiring-pages.tsx'
import { fhirJson } from './routes/accept.ts'
import { requireAccess } from './routes/access.ts'
import type { AppDependencies, AppEnvironment } from './routes/dependencies.ts'
import { fhir } from './routes/fhir.ts'
import { wiring } from './routes/wiring.ts'

export type { AppDependencies } from './routes/dependencies.ts'

/** Largest body read: a Parameters resource is far smaller. */
const maximumBytes = 64 * 1024

/**
 * The whole service. Everything may throw; the one handler at the end turns what was thrown into an OperationOutcome.
 * `/health` says only that the worker runs, so it needs neither configuration nor access.
 */
export function createApp(deps: AppDependencies): Hono<AppEnvironment> {
  const app = new Hono<AppEnvironment>()
  const configurationOf = readOnce()
  app.use(async (c, next) => {
    await next()
    c.header('Cache-Control', 'no-store')
    c.header('X-Content-Type-Options', 'nosniff')
  })
  app.get('/health', (c) => c.json({ status: 'ok' }))
  app.use(async (c, next) => {
    c.set('configuration', configurationOf(c.env))
    await next()
  })
  app.use(requireAccess)
  app.use(bodyLimit({ maxSize: maximumBytes, onError: refuseBody }))
  app.route('/fhir', fhir(deps))
  app.use('/wiring/*', pageHeaders)
  app.route(
    '/wiring',
    wiring({ surveyWiring: deps.surveyWiring, ...wiringPages(deps.definitions.resources, deps.now) }),
  )
  app.use('/measures', pageHeaders)
  app.use('/measures/*', pageHeaders)
  app.get('/measures', (c) => c.html(measureListPage(deps.definitions.measures)))
  app.get('/measures/:id', async (c) => {
    const { configuration } = c.var
    return c.html(
      await measurePage(
        c.req.param('id'),
        deps.definitions.measures,
        configuration.asOf ?? deps.now().toISOString(),
        (fields, period) => deps.completenessOf(fields, period, configuration),
      ),
    )
  })
  app.get('/', (c) => {
    const { configuration } = c.var
    const { sources, asOf } = configuration
    const page = pages({
      definitions: deps.definitions,
      evaluate: (request) => deps.evaluate(request, configuration),
      units: sources.flatMap(({ units }) => units),
      latestAsOf: asOf ?? deps.now().toISOString(),
    })
    return page.fetch(c.req.raw)
  })
  app.notFound(() => {
    throw new ReportableError('not-found', 'There is nothing at this address: start at /fhir/metadata.')
  })
  app.onError((error, c) => {
    const { status, outcome, headers } = toOutcome(error)
    return c.json(outcome, status, { ...headers, 'Content-Type': fhirJson })
  })
  return app
}

/** The platform hands over the same bindings with every request, so they are read once. */
function readOnce(): (env: Env) => Configuration {
  const known = new WeakMap<Env, Configuration>()
  return (env) => {
    const configuration = known.get(env) ?? readConfiguration(env)
    known.set(env, configuration)
    return configuration
  }
}

function refuseBody(): never {
  throw new ReportableError('bad-request', `The body is larger than ${maximumBytes} bytes.`)
}
