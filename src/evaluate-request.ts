import type { MeasureDefinition } from './measures/measure.ts'

/** One question to the core: which measure, over which days, for whom, and read as of when. */
export interface EvaluateRequest {
  readonly measure: MeasureDefinition
  /** Civil dates, both inclusive; civil in the zone of each unit. */
  readonly period: { readonly start: string; readonly end: string }
  /** Date (its end) or instant as of which the record is read; absent: now. */
  readonly asOf?: string
  /** Id of a configured unit; absent: all units. */
  readonly unit?: string
  /** `Practitioner/id` or `system|value`, as the caller gave it. */
  readonly practitioner?: string
}
