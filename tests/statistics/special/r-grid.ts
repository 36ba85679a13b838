import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** Rows of one table of R values, as numbers; how it was made is in fixtures/statistics/README.md. */
export function gridRows(table: string): number[][] {
  const text = readFileSync(join(import.meta.dirname, '../../../fixtures/statistics', `${table}.csv`), 'utf8')
  const [, ...lines] = text.trim().split('\n')
  return lines.map((line) => line.split(',').map(Number))
}

/** Relative difference; 0 where both are the same, 0 and infinity included. */
export const relativeError = (got: number, expected: number): number =>
  got === expected ? 0 : Math.abs(got - expected) / Math.abs(expected)

/** Largest relative error over rows whose last number is the expected one, and the row where it lies. */
export function worstError(rows: readonly number[][], value: (row: number[]) => number) {
  let worst = { error: 0, row: [] as number[] }
  for (const row of rows) {
    const error = relativeError(value(row), row.at(-1) ?? Number.NaN)
    if (!(error <= worst.error)) worst = { error, row }
  }
  return worst
}
