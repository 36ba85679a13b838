/** Partial numerator and denominator of step n of a continued fraction. */
export interface Step {
  readonly numerator: number
  readonly denominator: number
}

/** Two units in the last place: a smaller change is rounding, and waiting for none at all can take thousands of steps. */
const precision = 2 ** -51
/** Stands in for a denominator that vanishes, as Lentz's method requires. */
const tiny = 1e-300

/**
 * Value of the continued fraction n₁/(d₁ + n₂/(d₂ + …)) by the modified method of Lentz.
 *
 * @param mostSteps cap on the steps, which the caller derives from its shapes: the number needed grows as their root
 * @throws {RangeError} when it has not settled by then
 * Source: Thompson and Barnett, J Comput Phys 1986;64:490-509; DLMF 3.10(iii).
 */
export function continuedFraction(step: (n: number) => Step, mostSteps: number): number {
  let value = tiny
  let c = value
  let d = 0
  for (let n = 1; n <= mostSteps; n++) {
    const { numerator, denominator } = step(n)
    d = 1 / (denominator + numerator * d || tiny)
    c = denominator + numerator / c || tiny
    const change = c * d
    value *= change
    if (Math.abs(change - 1) <= precision) return value
  }
  throw new RangeError(`continuedFraction: not settled after ${mostSteps} steps`)
}
