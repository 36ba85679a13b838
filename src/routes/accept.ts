import { createMiddleware } from 'hono/factory'
import { ReportableError } from '../errors.ts'

export const fhirJson = 'application/fhir+json; charset=utf-8'

/** Ranges of `Accept` that FHIR JSON satisfies. Source: FHIR R4 (4.0.1), RESTful API, Content Types and encodings. */
const acceptable = new Set(['*/*', 'application/*', 'application/json', 'application/fhir+json'])
const jsonFormats = new Set(['json', 'application/json', 'application/fhir+json'])

/** Whether a media type, parameters aside, is FHIR JSON or plain JSON. */
export const isJson = (mediaType: string): boolean => jsonFormats.has(bare(mediaType)) && mediaType.includes('/')

/** Only JSON is spoken here: refuses whatever cannot take it. `_format` outranks `Accept`. */
export const jsonOnly = createMiddleware(async function jsonOnly(c, next) {
  const formats = new URL(c.req.url).searchParams.getAll('_format')
  // In a query a literal plus means a blank, and most callers do not escape it.
  if (formats.some((format) => !jsonFormats.has(bare(format.replaceAll(' ', '+'))))) {
    throw new ReportableError('not-acceptable', 'Only JSON is served: use _format=json or leave it out.')
  }
  const accept = c.req.header('accept')
  if (formats.length === 0 && accept !== undefined && !takesJson(accept)) {
    throw new ReportableError('not-acceptable', 'Only JSON is served: accept application/fhir+json.')
  }
  await next()
})

function takesJson(accept: string): boolean {
  if (accept.trim() === '') return true
  return accept.split(',').some((range) => {
    const refused = /;\s*q=0(\.0*)?\s*(;|$)/i.test(range)
    return !refused && acceptable.has(bare(range))
  })
}

const bare = (mediaType: string): string => (mediaType.split(';')[0] ?? '').trim().toLowerCase()
