import type { OperationOutcome, OperationOutcomeIssue } from 'fhir/r4'
import { type ErrorCode, ReportableError } from './errors.ts'

interface Answer {
  readonly status: number
  readonly issue: OperationOutcomeIssue['code']
}

/** HTTP status and issue type of every reportable fault. The words are of http://hl7.org/fhir/R4/valueset-issue-type.html. */
const answers = {
  'bad-request': { status: 400, issue: 'value' },
  'missing-parameter': { status: 400, issue: 'required' },
  'unknown-parameter': { status: 400, issue: 'not-supported' },
  'not-supported': { status: 400, issue: 'not-supported' },
  'bad-period': { status: 400, issue: 'value' },
  'unknown-measure': { status: 404, issue: 'not-found' },
  'unknown-practitioner': { status: 404, issue: 'not-found' },
  'ambiguous-practitioner': { status: 400, issue: 'multiple-matches' },
  'unknown-unit': { status: 404, issue: 'not-found' },
  'source-unreachable': { status: 502, issue: 'transient' },
  // The source will refuse the same request again: asking once more does not help, so not "transient".
  'source-refused': { status: 502, issue: 'processing' },
  'source-not-fhir': { status: 502, issue: 'structure' },
  'source-timeout': { status: 504, issue: 'timeout' },
  configuration: { status: 500, issue: 'exception' },
  unauthenticated: { status: 401, issue: 'login' },
  forbidden: { status: 403, issue: 'forbidden' },
  'not-found': { status: 404, issue: 'not-found' },
  'method-not-allowed': { status: 405, issue: 'not-supported' },
  'not-acceptable': { status: 406, issue: 'not-supported' },
  'unsupported-media-type': { status: 415, issue: 'not-supported' },
  'too-costly': { status: 422, issue: 'too-costly' },
} as const satisfies Record<ErrorCode, Answer>

export type FaultStatus = (typeof answers)[ErrorCode]['status']

export interface Fault {
  readonly status: FaultStatus
  readonly outcome: OperationOutcome
  /** Headers that belong to the status, such as the challenge of a 401. */
  readonly headers: Readonly<Record<string, string>>
}

/**
 * The one place that turns a thrown value into an answer. A `ReportableError` is told in full (`diagnostics` the
 * message, `details.text` the stable code); anything else is a bug and answers 500 without a word of its text, which
 * could hold patient data.
 */
export function toOutcome(thrown: unknown): Fault {
  if (!(thrown instanceof ReportableError)) {
    const diagnostics = 'An unexpected fault inside the service. The request was not answered.'
    return { status: 500, headers: {}, outcome: outcomeOf({ severity: 'fatal', code: 'exception', diagnostics }) }
  }
  const { status, issue } = answers[thrown.code]
  return {
    status,
    headers: status === 401 ? { 'WWW-Authenticate': 'Bearer' } : {},
    outcome: outcomeOf({
      severity: 'error',
      code: issue,
      details: { text: thrown.code },
      diagnostics: thrown.message,
    }),
  }
}

function outcomeOf(issue: OperationOutcomeIssue): OperationOutcome {
  return { resourceType: 'OperationOutcome', issue: [issue] }
}
