/**
 * Deviance term x ln(x/m) + m − x of a count x against its mean m, for x, m > 0.
 * The difference d = x − m is an argument because the caller often knows it to more digits than x − m would give.
 *   v = d/(x + m), |v| < 0.1: d·v + 2x Σ v^(2j+1)/(2j + 1), j = 1, 2, …; otherwise as written.
 * Source: Loader, Fast and accurate computation of binomial probabilities, 2000, section 3.
 */
export function deviance(x: number, mean: number, difference: number): number {
  const v = difference / (x + mean)
  if (!(Math.abs(v) < 0.1)) return x * Math.log(x / mean) - difference
  let total = difference * v
  let power = 2 * x * v
  for (let odd = 3; ; odd += 2) {
    power *= v * v
    const next = total + power / odd
    if (next === total) return total
    total = next
  }
}
