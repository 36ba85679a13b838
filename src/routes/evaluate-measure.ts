import type { Context } from 'hono'
import { ReportableError } from '../errors.ts'
import type { EvaluateRequest } from '../evaluate-request.ts'
import { measureReport } from '../report/measure-report.ts'
import { fhirJson } from './accept.ts'
import type { AppDependencies, AppEnvironment } from './dependencies.ts'
import { asOfOf, evaluateParameters, periodOf, practitionerOf, reportTypeOf } from './evaluate-parameters.ts'
import { bodyPairs, onlyKnown, queryPairs } from './parameters.ts'
import { measureNamed } from './published.ts'

/**
 * `Measure/$evaluate-measure` and `Measure/[id]/$evaluate-measure`: from the parameters to one MeasureReport, which is
 * the whole body. Source: FHIR R4 (4.0.1), OperationDefinition Measure-evaluate-measure.
 */
export async function evaluateMeasure(c: Context<AppEnvironment>, deps: AppDependencies): Promise<Response> {
  const body = c.req.method === 'POST' ? await bodyPairs(c.req) : []
  const values = onlyKnown([...queryPairs(c.req), ...body], evaluateParameters)
  const type = reportTypeOf(values)
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
  if (type === 'subject-list') requireListable(request)
  const result = await deps.evaluate(request, c.var.configuration)
  return c.json(measureReport(result, { date: deps.now().toISOString(), type }), 200, { 'Content-Type': fhirJson })
}

/**
 * A list of cases is made of a measure whose cases are reviewed, for the unit that reviews them.
 * @throws {ReportableError} `not-supported`
 */
function requireListable({ measure, unit }: EvaluateRequest): void {
  if (measure.reviewList && unit !== undefined) return
  const why = measure.reviewList
    ? 'name the unit that reviews them with x-unit.'
    : `the cases of ${measure.id} are not for review; ask for reportType=population.`
  throw new ReportableError('not-supported', `No list of cases (subject-list) is given: ${why}`)
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
