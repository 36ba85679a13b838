import { ReportableError } from '../errors.ts'

/** The source understood and said no: asking the same again is useless, but the rest of the window may still be read. */
export class Refusal extends ReportableError {
  /** HTTP status; 200 where the refusal came as an OperationOutcome in a successful answer. */
  readonly status: number

  constructor(sourceId: string, resourceType: string, status: number) {
    super('source-refused', `Source ${sourceId}: ${resourceType} was refused (status ${status}). ${advice(status)}`)
    this.status = status
  }
}

function advice(status: number): string {
  if (status >= 300 && status < 400)
    return 'It redirects elsewhere, which is not followed: configure the final address.'
  if (status === 401 || status === 403) return 'Check what access this service has been given there.'
  if (status === 404) return 'Check that the configured base address is that of a FHIR R4 server.'
  return 'Check that the server supports this search.'
}
