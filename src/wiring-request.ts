/** A question about the wiring: a period, and, where it is not all of them, one source. */
export interface WiringRequest {
  /** Civil dates, both inclusive, in each unit's zone. */
  readonly period: { readonly start: string; readonly end: string }
  /** Id of one configured source. */
  readonly source?: string
}
