import type { Unit } from '../config.ts'
import { ReportableError } from '../errors.ts'
import type { EvaluateRequest } from '../evaluate-request.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { firstDay, isMonth, lastDay, monthsIn, monthsLater } from './months.ts'

/** What the form holds, as text: the reader's own words, or what is shown when nothing was asked. */
export interface Choice {
  readonly measure: string
  /** Empty: all units. */
  readonly unit: string
  /** Months `YYYY-MM`, both included. */
  readonly from: string
  readonly to: string
}

const names = ['measure', 'unit', 'from', 'to'] as const

/** What is shown when nothing was asked, where it is published. */
const usualMeasure = 'adenoma-detection-rate-us-2024'

/** Longest period of one page. */
const mostMonths = 60

/**
 * The choice as asked, with the usual choice where nothing is asked: the usual measure, all units, and half a year that
 * ended a whole month before the last readable day, so that most histology has come.
 */
export function choiceOf(
  query: Readonly<Record<string, readonly string[]>>,
  measures: readonly MeasureDefinition[],
  latestAsOf: string,
): Choice {
  const to = monthsLater(latestAsOf.slice(0, 7), -2)
  const measure = measures.find(({ id }) => id === usualMeasure) ?? measures[0]
  const usual: Choice = { measure: measure?.id ?? '', unit: '', from: monthsLater(to, -5), to }
  const asked = names.flatMap((name) => {
    const [value] = query[name] ?? []
    return value === undefined || value === '' ? [] : [[name, value]]
  })
  return { ...usual, ...Object.fromEntries(asked) }
}

/**
 * Checks the choice and turns it into a request to the core.
 *
 * @throws {ReportableError} bad-request, unknown-measure, unknown-unit or bad-period, in words for the page's reader
 */
export function requestOf(
  choice: Choice,
  query: Readonly<Record<string, readonly string[]>>,
  measures: readonly MeasureDefinition[],
  units: readonly Unit[],
): EvaluateRequest {
  for (const [name, values] of Object.entries(query)) {
    if (!names.some((known) => known === name))
      throw new ReportableError(
        'unknown-parameter',
        `“${name}” cannot be asked of this page; it knows ${names.join(', ')}.`,
      )
    if (values.length > 1)
      throw new ReportableError('bad-request', `“${name}” was given ${values.length} times; give it once.`)
  }
  const measure = measures.find(({ id }) => id === choice.measure)
  if (!measure)
    throw new ReportableError('unknown-measure', `There is no measure “${choice.measure}”. Choose one from the list.`)
  if (choice.unit !== '' && !units.some(({ id }) => id === choice.unit))
    throw new ReportableError('unknown-unit', `There is no unit “${choice.unit}”. Choose one from the list.`)
  for (const month of [choice.from, choice.to]) {
    if (!isMonth(month))
      throw new ReportableError('bad-period', `“${month}” is not a month. Write year and month, such as 2026-01.`)
  }
  if (choice.from > choice.to)
    throw new ReportableError(
      'bad-period',
      `The first month, ${choice.from}, lies after the last, ${choice.to}. Exchange them.`,
    )
  if (monthsIn(choice.from, choice.to) > mostMonths)
    throw new ReportableError('bad-period', `The period is longer than ${mostMonths} months. Choose a shorter one.`)
  return {
    measure,
    period: { start: firstDay(choice.from), end: lastDay(choice.to) },
    ...(choice.unit !== '' && { unit: choice.unit }),
  }
}
