import { asNumber, asObject, asText, type Json } from './json.ts'

/** Factor to minutes of the units in which times are met: UCUM codes and the words people type. */
const minutesPer: ReadonlyMap<string, number> = new Map([
  ...['min', 'mins', 'minute', 'minutes'].map((unit): [string, number] => [unit, 1]),
  ...['s', 'sec', 'seconds'].map((unit): [string, number] => [unit, 1 / 60]),
  ...['h', 'hr', 'hour', 'hours'].map((unit): [string, number] => [unit, 60]),
])
const millimetresPer: ReadonlyMap<string, number> = new Map([
  ...['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'].map((unit): [string, number] => [unit, 1]),
  ['cm', 10],
])

/** Rounds to the three decimals that the record keeps. */
export const rounded = (value: number): number => Math.round(value * 1000) / 1000

/** Minutes of an observation or component; undefined when it has a comparator, no unit we know, or no number. */
export const minutesOf = (holder: Json): number | undefined => measured(holder, minutesPer, 'min')

/** Millimetres of an observation or component, by the same rules. */
export const millimetresOf = (holder: Json): number | undefined => measured(holder, millimetresPer, 'mm')

function measured(holder: Json, factors: ReadonlyMap<string, number>, assumed: string): number | undefined {
  const quantity = asObject(holder.valueQuantity)
  // A bare integer in a code that means minutes is minutes; a quantity must name its unit.
  const value = quantity ? asNumber(quantity.value) : asNumber(holder.valueInteger)
  if (value === undefined || value < 0 || quantity?.comparator !== undefined) return undefined
  const unit = quantity ? (asText(quantity.code) ?? asText(quantity.unit)) : assumed
  const factor = unit === undefined ? undefined : factors.get(unit.toLowerCase())
  return factor === undefined ? undefined : rounded(value * factor)
}

/** Whole number of an observation or component, sent as integer, quantity or decimal without a fraction. */
export function wholeNumberOf(holder: Json): number | undefined {
  const quantity = asObject(holder.valueQuantity)
  if (quantity?.comparator !== undefined) return undefined
  const value = asNumber(holder.valueInteger ?? quantity?.value ?? holder.valueDecimal ?? holder.valueString)
  return value !== undefined && Number.isInteger(value) ? value : undefined
}
