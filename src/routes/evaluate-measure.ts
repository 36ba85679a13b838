import type { Context } from 'hono'
import { ReportableError } from '../errors.ts'
import { measureReport } from '../report/measure-report.ts'
import { fhirJson } from './accept.ts'
import type { AppDependencies, AppEnvironment } from './dependencies.ts'
import { asOfOf, evaluateParameters, periodOf, practitionerOf, requireSummary } from './evaluate-parameters.ts'
import { bodyPairs, onlyKnown, queryPairs } from './parameters.ts'
import { measureNamed } from './published.ts'

/**
 * `Measure/$evaluate-measure` and `Measure/[id]/$evaluate-measure`: from the parameters to one MeasureReport, which is
 * the whole body. Source: FHIR R4 (4.0.1), OperationDefinition Measure-evaluate-measure.
 */
export async function evaluateMeasure(c: Context<AppEnvironment>, deps: AppDependencies): Promise<Response> {
  const body = c.req.method === 'POST' ? await bodyPairs(c.req) : []
  const values = onlyKnown([...queryPairs(c.req), ...body], evaluateParameters)
  requireSummary(values)
  const asOf = asOfOf(values)
  const unit = values.get('x-unit')
  const practitioner = practitionerOf(values)
  const request = {
    measure: measureNamed(deps.definitions, measureOf(c.req.param('id'), values.get('measure'))),
    period: periodOf(values),
    ...(asOf === undefined ? {} : { asOf }),
    ...(unit === undefined ? {} : { unit }),
    ...(practitioner === undefined ? {} : { practitioner }),
  }
  const result = await deps.evaluate(request, c.var.configuration)
  return c.json(measureReport(result, { date: deps.now().toISOString() }), 200, { 'Content-Type': fhirJson })
}

/** The measure is named by the address of the instance, else by the parameter; never by both. */
function measureOf(id: string | undefined, parameter: string | undefined): string {
  if (id !== undefined && parameter !== undefined) {
    throw new ReportableError('bad-request', 'measure is named twice: in the address and as a parameter.')
  }
  const name = id ?? parameter
  if (name === undefined) {
    throw new ReportableError('missing-parameter', 'measure is missing: give the id, url or url|version of a measure.')
  }
  return name
}
