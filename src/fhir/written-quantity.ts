import type { Units } from './units.ts'

/** A number with a comparator or a second number, in the unit that is kept. */
export interface Written {
  readonly comparator: string | undefined
  readonly value: number
  /** Upper end where a range is written. */
  readonly until: number | undefined
}

const number = '(\\d+(?:[.,]\\d+)?)'
const unit = '([a-zµμ]*)\\.?'
const pattern = new RegExp(
  `^(<=|>=|[<>≤≥])?\\s*${number}\\s*${unit}(?:\\s*(?:-|–|—|to)\\s*${number}\\s*${unit})?$`,
  'i',
)
const comparators: Readonly<Record<string, string>> = { '≤': '<=', '≥': '>=' }
/** Longer texts are sentences. */
const longest = 40

/**
 * Reads a text such as `8 min`, `7,5 mm`, `< 5 mm` or `5-7 mm`. The unit must be written; of a range one unit may serve both
 * numbers. A comma is a decimal comma, unless exactly three digits follow it: then it may part thousands.
 *
 * @returns undefined for everything else: nothing is guessed
 */
export function readWritten(text: string, units: Units): Written | undefined {
  const match = text.length > longest ? null : pattern.exec(text.trim())
  if (!match) return undefined
  const [, comparator, first = '', firstUnit = '', second, secondUnit = ''] = match
  const factor = units.get((firstUnit || secondUnit).toLowerCase())
  const value = numberOf(first)
  if (factor === undefined || value === undefined) return undefined
  if (second === undefined)
    return {
      comparator: comparator && (comparators[comparator] ?? comparator),
      value: value * factor,
      until: undefined,
    }
  const upper = numberOf(second)
  const upperFactor = units.get(secondUnit.toLowerCase())
  if (comparator !== undefined || upper === undefined || upperFactor === undefined) return undefined
  return { comparator: undefined, value: value * factor, until: upper * upperFactor }
}

function numberOf(text: string): number | undefined {
  const comma = text.indexOf(',')
  if (comma >= 0 && text.length - comma === 4) return undefined
  return Number(text.replace(',', '.'))
}
