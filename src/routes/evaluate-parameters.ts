import type { Configuration } from '../env.ts'
import { ReportableError } from '../errors.ts'
import { isCalendarDate } from '../fhir/dates.ts'
import { edgeOfDate, instantOf } from './civil-date.ts'
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
const otherReports = ['subject', 'individual', 'subject-list']

/**
 * Refuses what asks for reports about single patients.
 * @throws {ReportableError}
 */
export function requireSummary(values: Values): void {
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
  if (otherReports.includes(type)) {
    throw new ReportableError('not-supported', `reportType ${type} is not supported: only population (summary) is.`)
  }
  if (!summaries.includes(type)) {
    const known = [...summaries, ...otherReports].join(', ')
    throw new ReportableError('bad-request', `reportType ${quoted(type)} is not one of ${known}.`)
  }
}

/**
 * The practitioner as given, once its form is one that can be looked up.
 * @throws {ReportableError} `bad-request`
 */
export function practitionerOf(values: Values): string | undefined {
  const text = values.get('practitioner')
  if (text === undefined || /^Practitioner\/[A-Za-z0-9\-.]{1,64}$/.test(text) || /^[^|\s]+\|[^|]+$/.test(text))
    return text
  throw new ReportableError(
    'bad-request',
    `practitioner is ${quoted(text)}: give Practitioner/id, or system|value of an identifier.`,
  )
}

/**
 * The id of a configured unit.
 * @throws {ReportableError} `unknown-unit`, naming the units there are
 */
export function unitOf(values: Values, { sources }: Configuration): string | undefined {
  const id = values.get('x-unit')
  const ids = sources.flatMap(({ units }) => units.map((unit) => unit.id))
  if (id === undefined || ids.includes(id)) return id
  const known = ids.length === 0 ? 'No units are configured: leave x-unit out.' : `There are: ${ids.join(', ')}.`
  throw new ReportableError('unknown-unit', `There is no unit ${quoted(id)}. ${known}`)
}

/**
 * The last moment about which anything is known: a configured one, else now.
 * @throws {ReportableError} `configuration` when AS_OF is not an instant of FHIR
 */
export function latestMoment({ asOf }: Configuration, now: string): string {
  const latest = instantOf(asOf ?? now)
  if (latest === undefined)
    throw new ReportableError('configuration', 'AS_OF is neither a date nor an instant with its zone.')
  return latest
}

/**
 * Instant as of which the record is read. A whole date means its last moment, but never later than `latest`, so that
 * today can be asked for.
 * @param latest instant beyond which nothing is known
 * @throws {ReportableError} `bad-request`
 */
export function asOfOf(values: Values, latest: string): string {
  const text = values.get('x-as-of')
  if (text === undefined) return latest
  const instant = instantOf(text)
  if (instant === undefined) {
    throw new ReportableError('bad-request', `x-as-of is ${quoted(text)}: give a date, or an instant with its zone.`)
  }
  if (Date.parse(instant) <= Date.parse(latest)) return instant
  if (isCalendarDate(text) && text <= latest.slice(0, 10)) return latest
  throw new ReportableError('bad-request', `x-as-of is ${quoted(text)}, later than ${latest}, the last moment known.`)
}
