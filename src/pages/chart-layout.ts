import type { MeasureDefinition } from '../measures/measure.ts'
import type { Interval } from '../statistics/interval.ts'
import { minimumName } from './answer-sentences.ts'
import { type RateScale, rateScale, valuesOn } from './rate-scale.ts'
import type { Row } from './rows.ts'
import { countsInBrief, range, rate, whyAbsent } from './wording.ts'

/** A standard's line: where it stands, and the words that name it. */
export interface StandardLine {
  readonly kind: 'minimum' | 'aspirational'
  readonly at: number
  readonly label: string
}

/** An interval as far as the scale goes, and whether it runs on beyond either end. */
export interface Bar {
  readonly from: number
  readonly to: number
  readonly beyondLow: boolean
  readonly beyondHigh: boolean
}

/** What is drawn for one row; `at`, `from` and `to` are percent of the width, `top` is in pixels. */
export interface ChartRow {
  readonly kind: Row['kind']
  readonly label: string
  readonly counts: string
  readonly top: number
  /** First row of its kind: a heading stands above it. */
  readonly heading?: string
  /** The figure at the right, and the interval beside it. */
  readonly figure: string
  readonly beside: string
  readonly mark:
    | { readonly kind: 'rate'; readonly at: number; readonly interval?: Bar }
    | { readonly kind: 'bounds'; readonly from: number; readonly to: number }
    | { readonly kind: 'none' }
}

export interface ChartLayout {
  readonly scale: RateScale
  readonly rows: readonly ChartRow[]
  readonly standards: readonly StandardLine[]
  /** Pixels: where the rows begin, where the axis lies, and the whole height. */
  readonly rowsTop: number
  readonly axis: number
  readonly height: number
}

export const rowHeight = 46
const headingHeight = 34
const headHeight = 22
const axisHeight = 30
const longestLabel = 26

const headings: Partial<Record<Row['kind'], string>> = {
  unit: 'Units',
  'unit-unassigned': 'Units',
  practitioner: 'Practitioners, most examinations first',
  unattributed: 'Practitioners, most examinations first',
}

/**
 * Places every row of a chart, the standard's lines and the axis.
 *
 * @returns undefined when no row has a score: there is nothing to draw, and an empty chart would look like a result
 */
export function chartLayout(rows: readonly Row[], measure: MeasureDefinition): ChartLayout | undefined {
  const scale = rateScale(valuesOn(rows, measure), measure)
  if (!scale) return undefined
  const standards = standardLines(measure, scale)
  const rowsTop = standards.length * headHeight + 6
  const placed: ChartRow[] = []
  let top = rowsTop
  let section: string | undefined
  for (const row of rows) {
    const heading = headings[row.kind]
    const starts = heading !== undefined && heading !== section
    section = heading
    if (starts) top += headingHeight
    placed.push({
      kind: row.kind,
      label: row.label.length > longestLabel ? `${row.label.slice(0, longestLabel - 1)}…` : row.label,
      counts: row.group.score === undefined ? '' : countsInBrief(measure, row.group),
      top,
      ...(starts && { heading }),
      ...drawn(row, measure, scale),
    })
    top += rowHeight
  }
  return { scale, rows: placed, standards, rowsTop, axis: top + 4, height: top + 4 + axisHeight }
}

function drawn(
  { group }: Row,
  measure: MeasureDefinition,
  { at }: RateScale,
): Pick<ChartRow, 'figure' | 'beside' | 'mark'> {
  const { score, interval, bounds, readBounds } = group
  if (score === undefined) return { figure: '', beside: `No rate: ${whyAbsent(group)}`, mark: { kind: 'none' } }
  if (readBounds && bounds) {
    return {
      figure: range(measure, bounds),
      beside: 'bounds',
      mark: { kind: 'bounds', from: at(bounds.lower), to: at(bounds.upper) },
    }
  }
  return {
    figure: rate(measure, score),
    beside: interval ? range(measure, interval) : 'no interval',
    mark: { kind: 'rate', at: at(score), ...(interval && { interval: barOf(interval, at) }) },
  }
}

function barOf({ lower, upper }: Interval, at: RateScale['at']): Bar {
  const [from, to] = [at(lower), at(upper)]
  // Rounding of the scale is no reason for an arrow.
  const slack = 1e-9
  return { from: Math.max(from, 0), to: Math.min(to, 100), beyondLow: from < -slack, beyondHigh: to > 100 + slack }
}

function standardLines(measure: MeasureDefinition, { at }: RateScale): StandardLine[] {
  const { minimum, aspirational } = measure.standard ?? {}
  return [
    ...(minimum === undefined
      ? []
      : [
          {
            kind: 'minimum' as const,
            at: at(minimum),
            label: `${capitalised(minimumName(measure))} ${rate(measure, minimum)}`,
          },
        ]),
    ...(aspirational === undefined
      ? []
      : [
          {
            kind: 'aspirational' as const,
            at: at(aspirational),
            label: `Aspirational standard ${rate(measure, aspirational)}`,
          },
        ]),
  ]
}

const capitalised = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
