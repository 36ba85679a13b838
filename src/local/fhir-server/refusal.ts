import type { OperationOutcome } from 'fhir/r4'

/** A request that the server will not answer, with the status and the reason that it gives. */
export class Refusal extends Error {
  readonly status: number
  readonly issue: 'invalid' | 'not-supported' | 'not-found'

  constructor(status: number, issue: Refusal['issue'], message: string) {
    super(message)
    this.status = status
    this.issue = issue
  }

  get outcome(): OperationOutcome {
    return {
      resourceType: 'OperationOutcome',
      issue: [{ severity: 'error', code: this.issue, diagnostics: this.message }],
    }
  }
}
