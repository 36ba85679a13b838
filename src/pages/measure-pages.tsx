import { ReportableError } from '../errors.ts'
import { fieldsOf } from '../measures/fields-of.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { toOutcome } from '../outcome.ts'
import { MeasureListPage } from './measure-list-page.tsx'
import { type Filled, MeasurePage } from './measure-page.tsx'
import { firstDay, lastDay, monthsLater } from './months.ts'
import { pageFrame } from './page-frame.tsx'

type Page = ReturnType<typeof pageFrame>
type Period = { readonly start: string; readonly end: string }

export const measureListPage = (measures: readonly MeasureDefinition[]): Page =>
  pageFrame({ title: 'Measures', place: '/measures', content: <MeasureListPage measures={measures} /> })

/**
 * The page of one measure. A source that cannot be read takes nothing away but how complete the facts are.
 *
 * @param latestAsOf latest date or instant as of which records can be read: the last month of which most histology has come is looked at
 * @param completeness how complete some facts are over a period
 * @throws {ReportableError} `not-found` for a measure that is not here
 */
export async function measurePage(
  id: string,
  measures: readonly MeasureDefinition[],
  latestAsOf: string,
  completeness: (fields: readonly string[], period: Period) => Promise<Exclude<Filled, { readonly problem: string }>>,
): Promise<Page> {
  const measure = measures.find((one) => one.id === id)
  if (measure === undefined) throw new ReportableError('not-found', `There is no measure ${id}: /measures lists them.`)
  const month = monthsLater(latestAsOf.slice(0, 7), -2)
  const filled: Filled = await completeness(fieldsOf(measure), { start: firstDay(month), end: lastDay(month) }).catch(
    (error: unknown) => ({ problem: toOutcome(error).outcome.issue[0]?.diagnostics ?? '' }),
  )
  return pageFrame({
    title: measure.title,
    place: '/measures',
    content: <MeasurePage measure={measure} filled={filled} />,
  })
}
