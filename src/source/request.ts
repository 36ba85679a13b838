import { ReportableError } from '../errors.ts'
import { waitBeforeRetry } from './backoff.ts'
import type { Connection } from './connection.ts'
import { isResource, type Resource } from './references.ts'
import { Refusal } from './refusal.ts'

const tries = 3
/** Answers after which the same reading may succeed. 500 is among them: one page of many fails at random on real servers. */
const passing = new Set([429, 500, 502, 503, 504])

type Attempt =
  | { readonly kind: 'resource'; readonly resource: Resource }
  | { readonly kind: 'final'; readonly error: ReportableError }
  | { readonly kind: 'passing'; readonly error: ReportableError; readonly headers?: Headers }

/**
 * One reading (GET) of a source: through the gate, with a limit on its time from sending to the last byte, and repeated
 * where that can help.
 *
 * @param url an address of the configured origin; the caller has seen to that
 * @param resourceType what is being read, for the messages
 * @throws {ReportableError} source-unreachable, source-timeout, source-not-fhir, or a {@link Refusal}
 */
export function request(
  connection: Connection,
  url: string,
  resourceType: string,
  headers: Record<string, string>,
): Promise<Resource> {
  const { gate, sleep, random, now, stopped } = connection
  return gate(async () => {
    for (let attempt = 1; ; attempt += 1) {
      stopped.throwIfAborted()
      const result = await tryOnce(connection, url, resourceType, headers)
      if (result.kind === 'resource') return result.resource
      if (result.kind === 'final' || attempt === tries) throw result.error
      await sleep(waitBeforeRetry(attempt, result.headers, random(), now()))
    }
  })
}

async function tryOnce(
  connection: Connection,
  url: string,
  resourceType: string,
  headers: Record<string, string>,
): Promise<Attempt> {
  const { source, fetchSource, timeoutMilliseconds, stopped } = connection
  const about = `Source ${source.id}: ${resourceType}`
  const timeout = AbortSignal.timeout(timeoutMilliseconds)
  let response: Response
  let text: string
  connection.requests += 1
  try {
    response = await fetchSource(url, { headers, redirect: 'manual', signal: AbortSignal.any([timeout, stopped]) })
    // Read whatever the status: an unread body would hold its connection.
    text = await response.text()
  } catch (cause) {
    if (timeout.aborted) {
      const message = `${about} did not come within ${timeoutMilliseconds / 1000} s. Try a shorter period, or later.`
      return { kind: 'final', error: new ReportableError('source-timeout', message, { cause }) }
    }
    const message = `${about} could not be read: the server cannot be reached. Check that it runs and its configured address.`
    return { kind: 'passing', error: new ReportableError('source-unreachable', message, { cause }) }
  }
  const { status } = response
  if (passing.has(status)) {
    const message = `${about} could not be read: the server answered with status ${status}, also when asked again. Try later.`
    return { kind: 'passing', error: new ReportableError('source-unreachable', message), headers: response.headers }
  }
  // A fetch that hides redirects shows status 0.
  if (!response.ok) return { kind: 'final', error: new Refusal(source.id, resourceType, status === 0 ? 302 : status) }
  return readBody(text, about)
}

/** Servers label JSON in many ways, so the body decides, not its declared type. */
function readBody(text: string, about: string): Attempt {
  const advice = 'Check that the configured address is the base of a FHIR R4 server that speaks JSON.'
  const notFhir = (what: string): ReportableError =>
    new ReportableError('source-not-fhir', `${about}: ${what}. ${advice}`)
  const body = text.replace(/^\uFEFF/, '').trimStart()
  if (body.startsWith('<')) return { kind: 'final', error: notFhir('the answer is a web page or XML, not FHIR JSON') }
  let json: unknown
  try {
    json = JSON.parse(body)
  } catch {
    // Most often a body that was cut on its way; its text may hold patient data, so the parser's message is not kept.
    return { kind: 'passing', error: notFhir('the answer is not readable as JSON, also when asked again') }
  }
  if (isResource(json)) return { kind: 'resource', resource: json }
  return { kind: 'final', error: notFhir('the answer is JSON, but no FHIR resource') }
}
