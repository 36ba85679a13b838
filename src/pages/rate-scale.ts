import { scaleLinear } from 'd3-scale'
import type { MeasureDefinition } from '../measures/measure.ts'
import { scaleOf } from '../report/figure.ts'
import { counted, type Row } from './rows.ts'

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
  // A single value has no upper half to lie in: its scale starts at 0 as well.
  const start = least < startAtZeroBelow * most || least === most ? 0 : least
  const limit = measure.scoring === 'proportion' ? 1 : Number.POSITIVE_INFINITY
  const end = most > 0 ? most : 0.1
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

/** Fewest examinations with which a group's interval widens the scale for all. */
const enoughToWiden = 30

/**
 * What the scale must hold: every rate, every pair of bounds, the standard, and the intervals. The interval of a group of a
 * few examinations may run off the scale, which would otherwise squeeze everybody else's; without larger groups all count.
 */
export function valuesOn(rows: readonly Row[], { standard }: MeasureDefinition): number[] {
  const allSmall = !rows.some(({ group }) => group.score !== undefined && counted(group) >= enoughToWiden)
  const drawn = rows.flatMap(({ group }) => {
    const { score, interval, bounds, readBounds } = group
    if (score === undefined) return []
    if (readBounds && bounds) return [bounds.lower, bounds.upper]
    const widens = interval !== undefined && (allSmall || counted(group) >= enoughToWiden)
    return [score, ...(widens ? [interval.lower, interval.upper] : [])]
  })
  if (drawn.length === 0) return []
  return [...drawn, standard?.minimum, standard?.aspirational].filter((value) => value !== undefined)
}
