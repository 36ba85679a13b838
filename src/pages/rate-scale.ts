import { scaleLinear } from 'd3-scale'
import type { MeasureDefinition } from '../measures/measure.ts'
import { scaleOf } from '../report/figure.ts'
import type { Row } from './rows.ts'

/** The one scale that every row of a chart is drawn on. */
export interface RateScale {
  readonly lowest: number
  readonly highest: number
  /** Percent of the drawing's width at which a value lies. */
  readonly at: (value: number) => number
  readonly ticks: readonly { readonly value: number; readonly label: string }[]
}

/** Below this share of the largest value, the scale starts at 0: what is left out would be small, and a 0 is honest. */
const startAtZeroBelow = 0.5

/**
 * A scale that holds every value given. It starts at 0 unless all values lie in its upper half, ends at round numbers, and never
 * goes beyond 100 % for a proportion.
 *
 * @returns undefined when there is nothing to hold
 */
export function rateScale(values: readonly number[], measure: MeasureDefinition): RateScale | undefined {
  const least = Math.min(...values)
  const most = Math.max(...values)
  if (!Number.isFinite(least) || !Number.isFinite(most)) return undefined
  const start = least < startAtZeroBelow * most || most === 0 ? 0 : least
  const limit = measure.scoring === 'proportion' ? 1 : Number.POSITIVE_INFINITY
  const end = most > start ? most : start + (Math.abs(start) || 1) / 10
  const [low = 0, high = 1] = scaleLinear([start, Math.min(end, limit)], [0, 100])
    .nice(5)
    .domain()
  const scale = scaleLinear([low, Math.min(high, limit)], [0, 100])
  const { factor, unit } = scaleOf(measure)
  const inFigures = scaleLinear([low * factor, Math.min(high, limit) * factor], [0, 100])
  const format = inFigures.tickFormat(5)
  return {
    lowest: low,
    highest: Math.min(high, limit),
    at: (value) => scale(value),
    ticks: inFigures.ticks(5).map((tick) => ({
      value: tick / factor,
      label: unit === '%' ? `${format(tick)}\u00a0%` : format(tick),
    })),
  }
}

/** Everything the rows and the standard put on the scale. */
export function valuesOn(rows: readonly Row[], { standard }: MeasureDefinition): number[] {
  const drawn = rows.flatMap(({ group: { score, interval, bounds, readBounds } }) => {
    if (score === undefined) return []
    if (readBounds && bounds) return [bounds.lower, bounds.upper]
    return [score, ...(interval ? [interval.lower, interval.upper] : [])]
  })
  if (drawn.length === 0) return []
  return [...drawn, standard?.minimum, standard?.aspirational].filter((value) => value !== undefined)
}
