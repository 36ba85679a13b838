import { asObject, asObjects, asText } from '../fhir/json.ts'
import { isResource, type Resource } from './references.ts'

/** One page of a search, as far as the server's answer could be read as one. */
export interface Page {
  /** Everything the page carries except outcomes: matches, and whatever was included. */
  readonly rows: readonly Resource[]
  readonly next?: string
  readonly self?: string
  readonly total?: number
  /** The server reported, beside or instead of rows, that something went wrong. */
  readonly error: boolean
  readonly warning: boolean
  /** The whole body was an OperationOutcome. */
  readonly outcomeOnly: boolean
}

/**
 * Reads a body as the answer to a search for `resourceType`. Entries are told apart by what they hold, because
 * `search.mode` is often absent; a lone resource of the type asked for counts as one match.
 * @returns undefined when the body is no such answer
 */
export function readPage(body: Resource, resourceType: string): Page | undefined {
  const nothing = { rows: [], error: false, warning: false, outcomeOnly: false }
  if (body.resourceType === 'OperationOutcome') return { ...nothing, ...worstOf([body]), outcomeOnly: true }
  if (body.resourceType === resourceType) return { ...nothing, rows: [body] }
  if (body.resourceType !== 'Bundle') return undefined
  const entries = body.entry ?? []
  if (!Array.isArray(entries)) return undefined
  const resources = entries.map((entry) => asObject(entry)?.resource).filter(isResource)
  const outcomes = resources.filter((resource) => resource.resourceType === 'OperationOutcome')
  const next = linkOf(body, 'next')
  const self = linkOf(body, 'self')
  return {
    rows: outcomes.length === 0 ? resources : resources.filter((row) => row.resourceType !== 'OperationOutcome'),
    ...(next !== undefined && { next }),
    ...(self !== undefined && { self }),
    ...(Number.isInteger(body.total) && { total: Number(body.total) }),
    ...worstOf(outcomes),
    outcomeOnly: false,
  }
}

function worstOf(outcomes: readonly Resource[]): { error: boolean; warning: boolean } {
  const severities = outcomes.flatMap(({ issue }) => asObjects(issue).map(({ severity }) => severity))
  return {
    error: severities.some((one) => one === 'error' || one === 'fatal'),
    warning: severities.includes('warning'),
  }
}

function linkOf({ link }: Resource, relation: string): string | undefined {
  return asText(asObjects(link).find((one) => one.relation === relation)?.url)
}
