/** Distribution function at u, and its density there. */
export interface AtPoint {
  readonly tail: number
  readonly density: number
}

const mostSteps = 200

/**
 * The u at which a tail area equals `probability`, by Newton's method on the logarithm of the tail, kept in a bracket.
 * Beta on the logit scale and gamma on the log scale have log-concave densities, hence log-concave tails: there
 * Newton's method does not overshoot from the small side, and the far tail is as easy as the middle.
 *
 * @param at tail area and density at u; the tail grows with u when `direction` is 1 and falls when it is −1
 * @throws {RangeError} when it has not settled after 200 steps
 */
export function tailRoot(at: (u: number) => AtPoint, probability: number, start: number, direction: 1 | -1): number {
  const target = Math.log(probability)
  let below = Number.NEGATIVE_INFINITY
  let above = Number.POSITIVE_INFINITY
  let u = start
  for (let step = 0; step < mostSteps; step++) {
    const { tail, density } = at(u)
    const gap = tail > 0 ? target - Math.log(tail) : Number.POSITIVE_INFINITY
    if (gap === 0) return u
    if (gap > 0 === direction > 0) below = u
    else above = u
    const newton = u + (direction * gap * tail) / density
    const next = newton > below && newton < above ? newton : fallback(below, above, direction, u)
    if (Math.abs(next - u) <= 2 ** -53 * Math.max(1, Math.abs(u))) return next
    u = next
  }
  throw new RangeError(`tailRoot: not settled after ${mostSteps} steps`)
}

/** Halves the bracket; doubles outwards while it is still open on one side. */
function fallback(below: number, above: number, direction: 1 | -1, u: number): number {
  if (Number.isFinite(below) && Number.isFinite(above)) return (below + above) / 2
  const stride = Math.max(1, Math.abs(u))
  if (Number.isFinite(below)) return u + stride
  if (Number.isFinite(above)) return u - stride
  return u + direction * stride
}
