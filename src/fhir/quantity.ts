import { canonicalSystem } from './code-system-aliases.ts'
import { readMoment } from './dates.ts'
import { holdsValue } from './holds-value.ts'
import { asNumber, asObject, asText, type Json } from './json.ts'
import { micrograms, millimetres, minutes, months, type Units } from './units.ts'
import { readWritten } from './written-quantity.ts'

/** What a comparator or a range says. A bound holds its end: `< 5` is at most 5, as nothing is rounded away from it. */
export interface Bounds {
  readonly atLeast?: number
  readonly atMost?: number
}

/**
 * What an observation or component says of a measure, rounded to three decimals: a value; bounds alone; 'unreadable' where
 * something stands that is not understood (another unit or none, a negative number, words); undefined where nothing stands.
 */
export type Measured = number | Bounds | 'unreadable' | undefined

const ucum = 'http://unitsofmeasure.org'

/** Rounds to the three decimals that the record keeps. */
export const rounded = (value: number): number => Math.round(value * 1000) / 1000

/** Minutes of an observation or component. A period says them too: from its start to its end. */
export const minutesOf = (holder: Json): Measured =>
  holder.valuePeriod === undefined ? measured(holder, minutes) : settled(holder, minutesFrom(holder.valuePeriod))

/** Millimetres of an observation or component. */
export const millimetresOf = (holder: Json): Measured => measured(holder, millimetres)

/** Months of an observation or component; a year has 365.25 days (UCUM). */
export const monthsOf = (holder: Json): Measured => measured(holder, months)

/** Micrograms of a Quantity, such as a dose. */
export const microgramsOf = (quantity: unknown): Measured => fromQuantity(quantity, micrograms)

/** Milligrams of a Quantity, such as a dose. */
export function milligramsOf(quantity: unknown): Measured {
  const dose = fromQuantity(quantity, micrograms)
  if (typeof dose === 'number') return rounded(dose / 1000)
  if (typeof dose !== 'object') return dose
  return {
    ...(dose.atLeast !== undefined && { atLeast: rounded(dose.atLeast / 1000) }),
    ...(dose.atMost !== undefined && { atMost: rounded(dose.atMost / 1000) }),
  }
}

/**
 * Whole number of an observation or component, sent as integer, quantity, decimal or text of digits. A score has no unit: none,
 * `1` or one in braces, or without a code a word that is no unit of a length, a time or a mass.
 */
export function wholeNumberOf(holder: Json): number | 'unreadable' | undefined {
  const { valueInteger, valueQuantity, valueDecimal, valueString } = holder
  const quantity = asObject(valueQuantity)
  const written = quantity === undefined ? (valueInteger ?? valueDecimal ?? valueString) : quantity.value
  const number = asNumber(written)
  if (number === undefined || holder.dataAbsentReason !== undefined)
    return (quantity !== undefined && written === undefined) || !holdsValue(holder) ? undefined : 'unreadable'
  if (quantity !== undefined) {
    const code = asText(quantity.code) ?? '1'
    if (quantity.comparator !== undefined || (code !== '1' && !code.startsWith('{'))) return 'unreadable'
    if (asText(quantity.code) === undefined && isUnitOfMeasure(asText(quantity.unit))) return 'unreadable'
  }
  return Number.isInteger(number) ? number : 'unreadable'
}

/** Whether a word is a unit of a length, a time or a mass: points may be called anything else. */
const isUnitOfMeasure = (word: string | undefined): boolean =>
  word !== undefined && [minutes, millimetres, micrograms, months].some((units) => units.has(word.toLowerCase()))

function measured(holder: Json, units: Units): Measured {
  const { valueQuantity, valueInteger, valueDecimal, valueRange, valueString } = holder
  if (valueQuantity !== undefined) return settled(holder, fromQuantity(valueQuantity, units))
  // A bare number in a code that means minutes is minutes; a quantity must name its unit.
  const bare = valueInteger ?? valueDecimal
  if (bare !== undefined) return settled(holder, inReach(asNumber(bare) ?? Number.NaN))
  if (valueRange !== undefined) return settled(holder, fromRange(valueRange, units))
  if (typeof valueString === 'string') return settled(holder, fromText(valueString, units))
  return holdsValue(holder) ? 'unreadable' : undefined
}

/** A value with a reason for its absence contradicts itself. */
const settled = (holder: Json, value: Measured): Measured =>
  value !== undefined && holder.dataAbsentReason !== undefined ? 'unreadable' : value

const inReach = (value: number): number | 'unreadable' => {
  const kept = rounded(value)
  return kept >= 0 && kept < Number.POSITIVE_INFINITY ? kept : 'unreadable'
}

function fromQuantity(written: unknown, units: Units): Measured {
  const quantity = asObject(written)
  if (quantity === undefined) return written === undefined || written === null ? undefined : 'unreadable'
  if (quantity.value === undefined || quantity.value === null) return undefined
  const value = asNumber(quantity.value)
  const factor = factorOf(quantity, units)
  if (value === undefined || factor === undefined || value < 0) return 'unreadable'
  return compared(quantity.comparator, inReach(value * factor))
}

function compared(comparator: unknown, value: number | 'unreadable'): Measured {
  if (comparator === undefined || value === 'unreadable') return value
  if (comparator === '<' || comparator === '<=') return { atMost: value }
  return comparator === '>' || comparator === '>=' ? { atLeast: value } : 'unreadable'
}

/** The code decides; words only where there is none, or it is of another system than UCUM. */
function factorOf({ system, code, unit }: Json, units: Units): number | undefined {
  const coded = asText(code)
  if (coded !== undefined) {
    const factor = units.get(coded) ?? units.get(coded.toLowerCase())
    if (factor !== undefined || canonicalSystem(asText(system) ?? ucum) === ucum) return factor
  }
  const words = asText(unit)
  return words === undefined ? undefined : (units.get(words) ?? units.get(words.toLowerCase()))
}

function fromRange(written: unknown, units: Units): Measured {
  const range = asObject(written)
  if (range === undefined) return 'unreadable'
  return between(fromQuantity(range.low, units), fromQuantity(range.high, units))
}

function between(low: Measured, high: Measured): Measured {
  const open = low === undefined || high === undefined
  if (low === 'unreadable' || typeof low === 'object' || high === 'unreadable' || typeof high === 'object')
    return 'unreadable'
  if (!open && low >= high) return low === high ? low : 'unreadable'
  if (low === undefined && high === undefined) return undefined
  return { ...(low !== undefined && { atLeast: low }), ...(high !== undefined && { atMost: high }) }
}

function fromText(text: string, units: Units): Measured {
  if (text.trim() === '') return undefined
  const written = readWritten(text, units)
  if (written === undefined) return 'unreadable'
  const value = inReach(written.value)
  return written.until === undefined ? compared(written.comparator, value) : between(value, inReach(written.until))
}

function minutesFrom(written: unknown): Measured {
  const period = asObject(written)
  // Any zone serves: a time without one is a wall clock's at both ends.
  const start = readMoment(period?.start, 'UTC')?.instant
  const end = readMoment(period?.end, 'UTC')?.instant
  return start === undefined || end === undefined ? 'unreadable' : inReach((end - start) / 60_000)
}
