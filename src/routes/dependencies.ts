import type { Completeness } from '../completeness.ts'
import type { Configuration, Env } from '../env.ts'
import type { EvaluateRequest } from '../evaluate-request.ts'
import type { Definitions } from '../measures/definitions.ts'
import type { MeasureResult } from '../tally/result.ts'
import type { WiringReport } from '../wiring/report.ts'
import type { WiringRequest } from '../wiring-request.ts'

/** Everything the application takes from outside, so that tests can give their own. */
export interface AppDependencies {
  readonly definitions: Definitions
  /** @throws {ReportableError} for an unknown practitioner or a source that fails */
  readonly evaluate: (request: EvaluateRequest, configuration: Configuration) => Promise<MeasureResult>
  /** @throws {ReportableError} for an unknown source, or one that fails */
  /** How complete some facts are over a period.
   *  @throws {ReportableError} for a source that fails */
  readonly completenessOf: (
    fields: readonly string[],
    period: Completeness['period'],
    configuration: Configuration,
  ) => Promise<Completeness>
  readonly surveyWiring: (request: WiringRequest, configuration: Configuration) => Promise<WiringReport>
  readonly now: () => Date
}

/** What Hono passes along a request: the bindings, and the configuration read from them. */
export interface AppEnvironment {
  Bindings: Env
  Variables: { configuration: Configuration }
}
