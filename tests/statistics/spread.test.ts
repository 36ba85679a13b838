import { describe, expect, it } from 'vitest'
import { spreadOf } from '../../src/statistics/spread.ts'

describe('spread of values', () => {
  it('gives the median of ten points that R gives', () => {
    // R 4.2.2: median(c(2, 4, 4, 5, 7, 9, 11, 12, 17, 20)) is 8.
    expect(spreadOf([20, 4, 7, 2, 12, 4, 9, 5, 17, 11])).toEqual({ least: 2, median: 8, most: 20 })
  })

  it('leaves its argument in order', () => {
    const values = Object.freeze([3, 1, 2])
    expect(spreadOf(values).median).toBe(2)
    expect(values).toEqual([3, 1, 2])
  })

  it.each([[[]], [[1, Number.NaN]]])('refuses %j', (values) => {
    expect(() => spreadOf(values)).toThrow(/^spreadOf: values must be finite/)
  })
})
