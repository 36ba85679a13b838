/**
 * FHIRPath decimals are compared to 8 decimal places; the package rounds both sides to the nearest multiple of 1e-8 before
 * any comparison, so that 0.1 + 0.2 = 0.3. The expression must stay as it is: another way of rounding to 8 places gives
 * another answer in the last bit.
 */
const toStep = (value: number): number => Math.round(value / 1e-8) * 1e-8

/** Rounding never brings together, nor swaps, two different whole numbers of 32 bits, so they are compared as they are. */
const areSmallWholes = (one: number, other: number): boolean => (one | 0) === one && (other | 0) === other

/** `<` of two numbers. Rounding keeps order, so what is not below before rounding is not below after it. */
export const isBelow = (one: number, other: number): boolean =>
  one < other && (areSmallWholes(one, other) || toStep(one) < toStep(other))

/** `=` of two values of like type. */
export const isEqual = (one: unknown, other: unknown): boolean =>
  one === other ||
  (typeof one === 'number' && typeof other === 'number' && !areSmallWholes(one, other) && toStep(one) === toStep(other))
