/** From here on the asymptotic series below is good to the last digit of a double. */
const seriesFrom = 16

/**
 * Error of Stirling's formula, δ(x) = ln Γ(x) − [(x − ½) ln x − x + ½ ln 2π], for x > 0.
 *   x ≥ 16: δ = 1/12x − 1/360x³ + 1/1260x⁵ − 1/1680x⁷ + 1/1188x⁹ − 691/360360x¹¹
 *   below:  δ(x) = δ(x + 1) + (x + ½) ln(1 + 1/x) − 1
 * Densities are written with δ instead of ln Γ because the large parts of ln Γ cancel between numerator and
 * denominator, and would take the digits with them.
 * Source: Loader, Fast and accurate computation of binomial probabilities, 2000; series: DLMF 5.11.1.
 */
export function stirlingError(x: number): number {
  let shifted = 0
  let at = x
  for (; at < seriesFrom; at++) shifted += (at + 0.5) * Math.log1p(1 / at) - 1
  const square = at * at
  const series =
    1 / 12 -
    (1 / 360 - (1 / 1260 - (1 / 1680 - (1 / 1188 - 691 / 360360 / square) / square) / square) / square) / square
  return shifted + series / at
}
