import type { HonoRequest } from 'hono'
import { ReportableError } from '../errors.ts'
import { isJson } from './accept.ts'

/**
 * The parameters of one request, each at most once. A search or an operation that silently dropped one would answer
 * another question, so unknown, repeated and empty ones are refused.
 *
 * @param known names that this interaction takes, besides `_format`
 * @throws {ReportableError} `unknown-parameter` or `bad-request`, naming the parameter and the known ones
 */
export function onlyKnown(
  pairs: Iterable<readonly [string, string]>,
  known: readonly string[],
): ReadonlyMap<string, string> {
  const values = new Map<string, string>()
  for (const [name, value] of pairs) {
    if (name === '_format') continue
    if (!known.includes(name)) {
      throw new ReportableError('unknown-parameter', `${quoted(name)} is not known here. Known: ${known.join(', ')}.`)
    }
    if (values.has(name)) throw new ReportableError('bad-request', `${name} is given more than once.`)
    if (value === '') throw new ReportableError('bad-request', `${name} is empty: give it a value or leave it out.`)
    values.set(name, value)
  }
  return values
}

/** Parameters of the query. */
export const queryPairs = (request: HonoRequest): [string, string][] => [...new URL(request.url).searchParams]

/**
 * Parameters of a FHIR Parameters resource in the body.
 * @throws {ReportableError} when the body is not such a resource, or a parameter has no single value that is text
 */
export async function bodyPairs(request: HonoRequest): Promise<[string, string][]> {
  if (!isJson(request.header('content-type') ?? '')) {
    throw new ReportableError('unsupported-media-type', 'Send the parameters as application/fhir+json.')
  }
  const body: unknown = await request.json().catch((cause: unknown) => {
    throw new ReportableError('bad-request', 'The body is not JSON.', { cause })
  })
  if (!isRecord(body) || body.resourceType !== 'Parameters') {
    throw new ReportableError('bad-request', 'The body is not a Parameters resource.')
  }
  const parameter = body.parameter ?? []
  if (!Array.isArray(parameter)) throw new ReportableError('bad-request', 'Parameters.parameter is not a list.')
  return parameter.map(pairOf)
}

function pairOf(parameter: unknown): [string, string] {
  if (!isRecord(parameter) || typeof parameter.name !== 'string') {
    throw new ReportableError('bad-request', 'A parameter of the body has no name.')
  }
  const values = Object.entries(parameter).filter(([key]) => key.startsWith('value'))
  const [value] = values
  if (values.length !== 1 || typeof value?.[1] !== 'string' || 'resource' in parameter || 'part' in parameter) {
    throw new ReportableError(
      'bad-request',
      `${quoted(parameter.name)} needs exactly one value that is text, such as valueDate or valueString.`,
    )
  }
  return [parameter.name, value[1]]
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** What the caller wrote, short enough to be shown. */
export const quoted = (text: string): string => `"${text.length > 60 ? `${text.slice(0, 60)}…` : text}"`
