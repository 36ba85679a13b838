import { ReportableError } from '../errors.ts'
import { isCalendarDate } from '../fhir/dates.ts'
import { edgeOfDate, isInstant } from './civil-date.ts'
import { quoted } from './parameters.ts'

type Values = ReadonlyMap<string, string>

/** Every parameter of R4's `$evaluate-measure`, and ours. */
export const evaluateParameters = [
  'periodStart',
  'periodEnd',
  'measure',
  'reportType',
  'subject',
  'practitioner',
  'lastReceivedOn',
  'x-as-of',
  'x-unit',
] as const

/**
 * Civil dates of the period, both inclusive.
 * @throws {ReportableError} `missing-parameter` or `bad-period`
 */
export function periodOf(values: Values): { start: string; end: string } {
  const start = day(values, 'periodStart', 'first')
  const end = day(values, 'periodEnd', 'last')
  if (start > end) throw new ReportableError('bad-period', `The period starts on ${start}, after it ends on ${end}.`)
  return { start, end }
}

function day(values: Values, name: string, edge: 'first' | 'last'): string {
  const text = values.get(name)
  const forms = 'give a date as YYYY, YYYY-MM or YYYY-MM-DD'
  if (text === undefined) throw new ReportableError('missing-parameter', `${name} is missing: ${forms}.`)
  const date = edgeOfDate(text, edge)
  if (date === undefined) {
    throw new ReportableError('bad-period', `${name} is ${quoted(text)}, which is not a date that exists: ${forms}.`)
  }
  return date
}

/** Words for one report over everybody: the operation's own word, and the report's. */
const summaries = ['population', 'summary']
const otherReports = ['subject', 'individual']

/**
 * The kind of report asked for: over everybody, or that with the list of its cases. What asks for reports about single patients
 * is refused.
 * @throws {ReportableError}
 */
export function reportTypeOf(values: Values): 'summary' | 'subject-list' {
  if (values.has('subject')) {
    const instead = 'Use practitioner for one endoscopist, x-unit for one unit.'
    throw new ReportableError('not-supported', `subject is not supported: reports are about examinations. ${instead}`)
  }
  if (values.has('lastReceivedOn')) {
    throw new ReportableError(
      'not-supported',
      'lastReceivedOn is not supported: it belongs to reports about one subject.',
    )
  }
  const type = values.get('reportType') ?? 'population'
  if (type === 'subject-list') return type
  if (otherReports.includes(type)) {
    throw new ReportableError(
      'not-supported',
      `reportType ${type} is not supported: population (summary) is, and subject-list for a measure whose cases are reviewed.`,
    )
  }
  if (!summaries.includes(type)) {
    const known = [...summaries, ...otherReports, 'subject-list'].join(', ')
    throw new ReportableError('bad-request', `reportType ${quoted(type)} is not one of ${known}.`)
  }
  return 'summary'
}

/** A resource, with its source before it where several have the same; or identifier system and value. */
const practitionerForms = [/^([^/|\s]+\/)?Practitioner\/[A-Za-z0-9\-.]{1,64}$/, /^[^|\s]+\|[^|]+$/]

/**
 * The practitioner as given, once its form is one that can be looked up.
 * @throws {ReportableError} `bad-request`
 */
export function practitionerOf(values: Values): string | undefined {
  const text = values.get('practitioner')
  if (text === undefined || practitionerForms.some((form) => form.test(text))) return text
  throw new ReportableError(
    'bad-request',
    `practitioner is ${quoted(text)}: give Practitioner/id, source/Practitioner/id, or system|value of an identifier.`,
  )
}

/**
 * Date or instant as of which the record is read, as given; evaluation caps it at the present and the report echoes it.
 * @throws {ReportableError} `bad-request`
 */
export function asOfOf(values: Values): string | undefined {
  const text = values.get('x-as-of')
  if (text === undefined || isCalendarDate(text) || isInstant(text)) return text
  throw new ReportableError(
    'bad-request',
    `x-as-of is ${quoted(text)}: give a date YYYY-MM-DD, or an instant with its zone.`,
  )
}
