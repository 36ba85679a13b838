import type { MeasureDefinition } from '../measures/measure.ts'
import type { Row } from './rows.ts'
import { type Column, columnsFor } from './table-columns.ts'
import { range, rate, whyAbsent } from './wording.ts'

/**
 * Every figure of the chart, and everything that stands apart from it. The table scrolls within its own frame, which the
 * keyboard can reach, so that the page does not.
 */
export function RateTable({
  rows,
  measure,
  caption,
}: {
  rows: readonly Row[]
  measure: MeasureDefinition
  caption: string
}) {
  const columns = columnsFor(rows, measure)
  const sections = [...Map.groupBy(columns, ({ section }) => section)]
  const opens = (column: Column): boolean => sections.some(([, [first]]) => first === column)
  return (
    <section class="frame" tabindex={0} aria-labelledby="table-caption">
      <table>
        <caption id="table-caption">{caption}</caption>
        <thead>
          <tr>
            <td />
            <td />
            {sections.map(([section, { length }]) => (
              <th class="opens" scope="colgroup" colspan={length}>
                {section}
              </th>
            ))}
          </tr>
          <tr>
            <th scope="col" class="who">
              Unit or practitioner
            </th>
            <th scope="col">Rate and 95&nbsp;% interval</th>
            {columns.map((column) => (
              <th scope="col" class={opens(column) ? 'opens' : undefined}>
                {column.heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr class={row.kind}>
              <th scope="row" class="who" title={row.fullKey}>
                {row.label}
              </th>
              <td class="rate">
                <Rate row={row} measure={measure} />
              </td>
              {columns.map((column) => {
                const cell = column.cell(row.group)
                const classes = [...(opens(column) ? ['opens'] : []), ...(cell === '0' ? ['zero'] : [])]
                return <td class={classes.join(' ') || undefined}>{cell}</td>
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function Rate({ row: { group }, measure }: { row: Row; measure: MeasureDefinition }) {
  const { score, interval, bounds, readBounds } = group
  if (score === undefined) return <span class="quiet">No rate: {whyAbsent(group)}</span>
  if (readBounds && bounds) {
    return (
      <>
        <strong>{range(measure, bounds)}</strong> <span class="quiet">bounds; too much not recorded</span>
      </>
    )
  }
  return (
    <>
      <strong>{rate(measure, score)}</strong>{' '}
      <span class="quiet">
        {interval ? range(measure, interval) : 'no interval: too few, or no spread'}
        {readBounds ? '; too much not recorded' : ''}
      </span>
    </>
  )
}
