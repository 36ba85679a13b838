import { isCalendarDate } from '../fhir/dates.ts'

/**
 * The first or last day of a FHIR date of any precision: `2026-02` is 2026-02-01 or 2026-02-28.
 * Source: FHIR R4 (4.0.1), OperationDefinition Measure-evaluate-measure, periodStart and periodEnd.
 * @returns a civil date YYYY-MM-DD; undefined when the text is not a date that exists
 */
export function edgeOfDate(text: string, edge: 'first' | 'last'): string | undefined {
  const [year, month = edge === 'first' ? '01' : '12', day] = text.split('-', 4)
  const days = day === undefined ? (edge === 'first' ? ['01'] : ['31', '30', '29', '28']) : [day]
  const date = days.map((one) => `${year}-${month}-${one}`).find(isCalendarDate)
  return date?.startsWith(text) ? date : undefined
}

const instantPattern =
  /^(\d{4}-\d{2}-\d{2})T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-](0\d|1[0-3]):[0-5]\d|[+-]14:00)$/

/** Whether a text is a FHIR instant: a date that exists, a time to the second, and a zone. */
export function isInstant(text: string): boolean {
  const date = instantPattern.exec(text)?.[1]
  return date !== undefined && isCalendarDate(date)
}
