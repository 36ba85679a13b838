import { describe, expect, it } from 'vitest'
import { betaQuantile } from '../../../src/statistics/special/beta-quantile.ts'
import { gammaQuantile } from '../../../src/statistics/special/gamma-quantile.ts'
import { incompleteBeta } from '../../../src/statistics/special/incomplete-beta.ts'
import { incompleteGamma } from '../../../src/statistics/special/incomplete-gamma.ts'
import { logGamma } from '../../../src/statistics/special/log-gamma.ts'
import { normalQuantile } from '../../../src/statistics/special/normal-quantile.ts'
import { studentTQuantile } from '../../../src/statistics/special/student-t-quantile.ts'
import { gridRows, relativeError, worstError } from './r-grid.ts'

type Row = number[]
const at = (row: Row, column: number): number => row[column] ?? Number.NaN

// R 4.2.2, fixtures/statistics. The demand is 1e-10; the tolerances are near what is reached, so that a loss of digits shows.
const tables: [
  title: string,
  table: string,
  rows: number,
  tolerance: number,
  keep: (r: Row) => boolean,
  value: (r: Row) => number,
][] = [
  [
    'qbeta',
    'qbeta',
    1068,
    1e-13,
    (r) => at(r, 1) >= 0.5 && at(r, 2) >= 0.5,
    (r) => betaQuantile(at(r, 0), at(r, 1), at(r, 2)),
  ],
  [
    'pbeta',
    'pbeta',
    831,
    1e-12,
    (r) => at(r, 1) >= 0.5 && at(r, 2) >= 0.5,
    (r) => incompleteBeta(at(r, 0), at(r, 1), at(r, 2)).lower,
  ],
  ['qgamma', 'qgamma', 324, 1e-13, (r) => at(r, 1) >= 0.5, (r) => gammaQuantile(at(r, 0), at(r, 1))],
  ['qchisq', 'qchisq', 288, 1e-13, () => true, (r) => 2 * gammaQuantile(at(r, 0), at(r, 1) / 2)],
  ['qnorm', 'qnorm', 158, 1e-15, () => true, (r) => normalQuantile(at(r, 0))],
  ['qt', 'qt', 180, 1e-13, () => true, (r) => studentTQuantile(at(r, 0), at(r, 1))],
]

describe('special functions against R', () => {
  it.each(tables)('agrees with %s over its grid', (_title, table, count, tolerance, keep, value) => {
    const rows = gridRows(table).filter(keep)
    expect(rows).toHaveLength(count)
    const { error, row } = worstError(rows, value)
    expect(error, `at ${row.join(', ')}`).toBeLessThan(tolerance)
  })

  it('agrees with pgamma in both tails', () => {
    const rows = gridRows('pgamma')
    expect(rows).toHaveLength(180)
    const lower = worstError(
      rows.map((row) => row.slice(0, 3)),
      ([x = 0, shape = 0]) => incompleteGamma(x, shape).lower,
    )
    const upper = worstError(rows, ([x = 0, shape = 0]) => incompleteGamma(x, shape).upper)
    expect(lower.error, `lower at ${lower.row.join(', ')}`).toBeLessThan(1e-12)
    expect(upper.error, `upper at ${upper.row.join(', ')}`).toBeLessThan(1e-12)
  })

  it('agrees with lgamma', () => {
    const rows = gridRows('lgamma').map((row) => row.slice(0, 2))
    expect(worstError(rows, ([x = 0]) => logGamma(x)).error).toBeLessThan(1e-13)
  })

  // R 4.2.2; the second agrees with 1 − 0.001^(1e-6) in long arithmetic, which R misses in the 15th digit.
  it.each([
    [0.001, 3, 99998, 1.9053510140953128e-6],
    [0.999, 1, 1e6, 6.9077314204955753e-6],
    [0.975, 4, 9997, 0.00087647452251400106],
    [0.025, 81, 183, 0.25273674558527115],
  ])('puts the %f quantile of Beta(%f, %f) at %f', (p, a, b, expected) => {
    expect(relativeError(betaQuantile(p, a, b), expected)).toBeLessThan(1e-13)
  })

  // R 4.2.2: qgamma, and qchisq with twice the value and shape. Above shape 900 libraries are known to fail.
  it.each([
    [0.025, 1000, 938.97301840769524],
    [0.975, 1001, 1063.9521360163019],
    [0.999, 1001, 2203.253887758061 / 2],
    [0.025, 1000, 1877.9460368153905 / 2],
  ])('puts the %f quantile of Gamma(%f) at %f', (p, shape, expected) => {
    expect(relativeError(gammaQuantile(p, shape), expected)).toBeLessThan(1e-13)
  })

  it('reaches far into a tail that 1 − p cannot express', () => {
    // R 4.2.2: qchisq(1e-20, 10, lower.tail = FALSE)
    expect(relativeError(2 * gammaQuantile(1e-20, 5, 'upper'), 118.54144259104658)).toBeLessThan(1e-13)
  })
})
