import { describe, expect, it } from 'vitest'
import { medianInterval, medianRank } from '../../src/statistics/median-interval.ts'
import { medianOfCounts } from '../../src/statistics/median-of-counts.ts'

// Ranks from R 4.2.2: the largest k with pbinom(k - 1, n, 0.5) <= 0.025.
describe('the ranks of an interval for a median', () => {
  it.each([
    [6, 1],
    [7, 1],
    [8, 1],
    [9, 2],
    [10, 2],
    [15, 4],
    [20, 6],
    [25, 8],
    [30, 10],
    [50, 18],
    [100, 40],
    [141, 59],
    [250, 110],
  ])('of %i values begin at %i', (total, rank) => {
    expect(medianRank(total, 0.025)).toBe(rank)
  })

  it.each([1, 2, 3, 4, 5])('do not exist for %i values', (total) => {
    expect(medianRank(total, 0.025)).toBe(0)
  })
})

describe('a median from counts per value', () => {
  it('is that of the values written out', () => {
    expect(medianOfCounts(new Map([[2, 3]]))).toBe(2)
    expect(
      medianOfCounts(
        new Map([
          [5, 1],
          [2, 2],
          [3, 1],
        ]),
      ),
    ).toBe(2.5)
    expect(
      medianInterval(
        new Map([
          [2, 30],
          [3, 20],
        ]),
      ),
    ).toEqual({ lower: 2, upper: 3 })
  })

  it.each([[new Map()], [new Map([[1, 0]])], [new Map([[Number.NaN, 1]])]])(
    'refuses what has no median: %o',
    (counts) => {
      expect(() => medianOfCounts(counts)).toThrow(RangeError)
    },
  )
})
