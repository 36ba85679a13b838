/** Every fault that may be reported to a caller, by a word that stays the same. `outcome.ts` gives each its status. */
export type ErrorCode =
  | 'bad-request'
  | 'missing-parameter'
  | 'unknown-parameter'
  | 'not-supported'
  | 'bad-period'
  | 'unknown-measure'
  | 'unknown-practitioner'
  | 'ambiguous-practitioner'
  | 'unknown-unit'
  | 'source-unreachable'
  | 'source-refused'
  | 'source-not-fhir'
  | 'source-timeout'
  | 'configuration'
  | 'unauthenticated'
  | 'forbidden'
  | 'not-found'
  | 'method-not-allowed'
  | 'not-acceptable'
  | 'unsupported-media-type'
  | 'too-costly'

/**
 * A fault whose message was written for the caller: what is wrong and what to do. The message never holds patient
 * data, a secret, or an address with its query. Whatever else is thrown is a bug, and its text stays inside.
 */
export class ReportableError extends Error {
  override readonly name = 'ReportableError'
  readonly code: ErrorCode

  constructor(code: ErrorCode, message: string, options?: { cause?: unknown }) {
    super(message, options)
    this.code = code
  }
}
