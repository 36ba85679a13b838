import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { heapedValue } from '../../src/wiring/heaping.ts'

/** Times from 1 minute on, one entry for each minute. */
const minutes = (...counts: number[]) => new Map(counts.map((count, index) => [index + 1, count]))

// A share of three tenths among at least thirty: a choice of this project, no source.
describe('a heap of typed times', () => {
  it('is the value that holds three tenths or more', () => {
    expect(heapedValue(minutes(9, 7, 7, 7))).toEqual({ value: 1, count: 9, of: 30 })
    expect(heapedValue(minutes(8, 8, 7, 7))).toBeUndefined()
  })

  it('is not told from chance among fewer than thirty', () => {
    expect(heapedValue(minutes(29))).toBeUndefined()
    expect(heapedValue(new Map())).toBeUndefined()
  })

  it('is the smaller of two equal ones, whatever their order', () => {
    expect(
      heapedValue(
        new Map([
          [8, 20],
          [6, 20],
        ]),
      ),
    ).toEqual({ value: 6, count: 20, of: 40 })
  })

  it('never holds more than all, and no value holds more than it', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(60), { minLength: 1, maxLength: 12 }), (counts) => {
        const heap = heapedValue(minutes(...counts))
        if (heap === undefined) return
        expect(heap.of).toBe(counts.reduce((sum, count) => sum + count, 0))
        expect(heap.count).toBe(Math.max(...counts))
      }),
      { seed: 7 },
    )
  })
})
