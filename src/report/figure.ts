import type { MeasureDefinition } from '../measures/measure.ts'
import { countsRareEvents } from '../measures/rare-events.ts'

/** How a figure of a measure is written for people: the factor, the decimals and what follows the number. */
interface Scale {
  readonly factor: number
  readonly decimals: number
  readonly unit: string
}

/** UCUM codes as people say them. */
const spoken: Readonly<Record<string, string>> = { min: 'minutes', d: 'days', ug: 'µg' }

/**
 * Rare events are read per 1,000, other proportions in per cent; everything else in the unit of its score. UCUM codes
 * that people do not say aloud are put into words.
 */
export function scaleOf(measure: MeasureDefinition): Scale {
  const { scoring, scoreUnit, criteria } = measure
  if (scoring === 'cohort') return { factor: 1, decimals: 0, unit: 'examinations' }
  if (scoring === 'proportion') {
    return countsRareEvents(measure)
      ? { factor: 1000, decimals: 2, unit: 'per 1,000' }
      : { factor: 100, decimals: 1, unit: '%' }
  }
  if (criteria.denominatorObservation) return { factor: 100, decimals: 1, unit: '%' }
  if (scoreUnit === '1') return { factor: 1, decimals: 2, unit: 'per examination' }
  return { factor: 1, decimals: 1, unit: spoken[scoreUnit] ?? scoreUnit }
}

/** @returns the number as people read it, for example `31.4 %` for a proportion of 0.3137 */
export function figure(measure: MeasureDefinition, value: number): string {
  const { factor, decimals, unit } = scaleOf(measure)
  return `${(value * factor).toFixed(decimals)} ${unit}`
}

/** @returns two numbers with the unit said once, for example `28.0 to 35.1 %` */
export function figures(measure: MeasureDefinition, { lower, upper }: { lower: number; upper: number }): string {
  const { factor, decimals } = scaleOf(measure)
  return `${(lower * factor).toFixed(decimals)} to ${figure(measure, upper)}`
}
