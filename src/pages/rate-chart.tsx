import type { MeasureDefinition } from '../measures/measure.ts'
import { type ChartLayout, type ChartRow, rowHeight, type StandardLine } from './chart-layout.ts'
import { rate } from './wording.ts'

const percent = (value: number): string => `${Number(value.toFixed(3))}%`
/** Height of a row's words and of its mark, from the row's top. */
const wordsAt = 16
const markAt = 32

/**
 * Every row's rate with its interval on one common scale. Positions are percentages of the width, so that the drawing
 * narrows with the page while its words keep their size. The table carries the same figures.
 */
export function RateChart({ layout, measure }: { layout: ChartLayout; measure: MeasureDefinition }) {
  const { scale, rows, standards, axis, height } = layout
  return (
    <svg class="chart" width="100%" height={height} role="img" aria-labelledby="chart-title chart-description">
      <title id="chart-title">{`${measure.title}: rate and 95 % interval of every group`}</title>
      <desc id="chart-description">{description(layout, measure)}</desc>
      {scale.ticks.map(({ value, label }) => {
        const x = scale.at(value)
        return (
          <g class="tick">
            <line x1={percent(x)} x2={percent(x)} y1={layout.rowsTop} y2={axis} />
            <text x={percent(x)} y={axis + 20} text-anchor={x < 3 ? 'start' : x > 97 ? 'end' : 'middle'}>
              {label}
            </text>
          </g>
        )
      })}
      <line class="axis" x1="0" x2="100%" y1={axis} y2={axis} />
      {standards.map((standard, order) => (
        <Standard standard={standard} order={order} axis={axis} />
      ))}
      {rows.map((row) => (
        <RowOfChart row={row} />
      ))}
    </svg>
  )
}

function Standard({
  standard: { kind, at, label },
  order,
  axis,
}: {
  standard: StandardLine
  order: number
  axis: number
}) {
  const y = order * 22 + 14
  const toTheLeft = at > 50
  return (
    <g class={`standard ${kind}`}>
      <line x1={percent(at)} x2={percent(at)} y1={y - 11} y2={axis} />
      <text x={percent(at)} dx={toTheLeft ? -7 : 7} y={y} text-anchor={toTheLeft ? 'end' : 'start'}>
        {label}
      </text>
    </g>
  )
}

function RowOfChart({ row }: { row: ChartRow }) {
  const { top, kind, label, counts, figure, beside, heading } = row
  return (
    <g class={`row ${kind}`}>
      {heading === undefined ? null : (
        <text class="heading" x="0" y={top - 8}>
          {heading}
        </text>
      )}
      <text x="0" y={top + wordsAt}>
        <tspan class="label">{label}</tspan>
        <tspan class="quiet roomy" dx="10">
          {counts}
        </tspan>
      </text>
      {row.mark.kind === 'none' ? (
        <text class="quiet" x="0" y={top + markAt + 2}>
          {beside}
        </text>
      ) : (
        <text x="100%" y={top + wordsAt} text-anchor="end">
          <tspan class="figure">{figure}</tspan>
          <tspan class="quiet roomy" dx="8">
            {beside}
          </tspan>
        </text>
      )}
      <line class="track" x1="0" x2="100%" y1={top + rowHeight - 1} y2={top + rowHeight - 1} />
      <Mark row={row} y={top + markAt} />
    </g>
  )
}

/** Dot for a person or a unit, diamond for the whole, open bar for bounds: told apart by shape, not by colour. */
function Mark({ row: { mark, kind }, y }: { row: ChartRow; y: number }) {
  if (mark.kind === 'none') return null
  if (mark.kind === 'bounds') {
    const width = Math.max(mark.to - mark.from, 0.4)
    return <rect class="bounds" x={percent(mark.from)} width={percent(width)} y={y - 5} height="10" rx="2" />
  }
  return (
    <>
      {mark.interval ? (
        <line class="interval" x1={percent(mark.interval.from)} x2={percent(mark.interval.to)} y1={y} y2={y} />
      ) : null}
      {mark.interval?.beyondLow ? <Beyond x="0%" y={y} path="M-4 -5 L-9 0 L-4 5" /> : null}
      {mark.interval?.beyondHigh ? <Beyond x="100%" y={y} path="M4 -5 L9 0 L4 5" /> : null}
      {kind === 'whole' ? (
        <svg x={percent(mark.at)} y={y} overflow="visible" aria-hidden="true">
          <path class="point" d="M0 -8 L8 0 L0 8 L-8 0 Z" />
        </svg>
      ) : (
        <circle class="point" cx={percent(mark.at)} cy={y} r={kind === 'unit' ? 6 : 5.5} />
      )}
    </>
  )
}

/** Arrowhead outside the scale: the interval runs on. */
function Beyond({ x, y, path }: { x: string; y: number; path: string }) {
  return (
    <svg x={x} y={y} overflow="visible" aria-hidden="true">
      <path class="beyond" d={path} />
    </svg>
  )
}

function description({ scale, rows, standards }: ChartLayout, measure: MeasureDefinition): string {
  const without = rows.filter(({ mark }) => mark.kind === 'none').length
  return [
    `${rows.length} rows on one scale from ${rate(measure, scale.lowest)} to ${rate(measure, scale.highest)}.`,
    ...standards.map(({ label }) => `A vertical line marks: ${label}.`),
    ...rows.slice(0, 1).map(({ label, figure, beside }) => `${label}: ${[figure, beside].filter(Boolean).join(', ')}.`),
    ...(without > 0 ? [`${without} of the rows have no rate and say why.`] : []),
    'The table that follows holds every figure.',
  ].join(' ')
}
