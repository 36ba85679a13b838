import { describe, expect, it } from 'vitest'
import { createRandom, createStream } from '../../src/local/demo/random.ts'

/** The same generator in whole numbers of any size, where nothing can overflow or be rounded. */
function* bigIntegers(seed: bigint): Generator<number> {
  const bits = (value: bigint) => BigInt.asUintN(32, value)
  let counter = bits(seed)
  for (;;) {
    counter = bits(counter + 0x9e3779b9n)
    let mixed = counter ^ (counter >> 16n)
    mixed = bits(mixed * 0x21f0aaadn)
    mixed ^= mixed >> 15n
    mixed = bits(mixed * 0x735a2d97n)
    mixed ^= mixed >> 15n
    yield Number(mixed)
  }
}

describe('createRandom', () => {
  it('draws what the same steps in unlimited integers draw', () => {
    const random = createRandom(20250101)
    const expected = bigIntegers(20250101n)
    for (let draw = 0; draw < 10_000; draw++) expect(random.below(2 ** 32)).toBe(expected.next().value)
  })

  it('keeps to its rates: ten cells of 100,000 draws pass a chi-square test', () => {
    const random = createRandom(1)
    const cells = new Array<number>(10).fill(0)
    for (let draw = 0; draw < 100_000; draw++) {
      const cell = random.below(10)
      cells[cell] = (cells[cell] ?? 0) + 1
    }
    const chiSquare = cells.reduce((sum, seen) => sum + (seen - 10_000) ** 2 / 10_000, 0)
    // 99.9 % point of chi-square with 9 degrees of freedom: R, qchisq(0.999, 9) = 27.877.
    expect(chiSquare).toBeLessThan(27.877)
  })

  it('draws in proportion to weights and never what weighs nothing', () => {
    const random = createRandom(2)
    const drawn = Array.from({ length: 40_000 }, () =>
      random.weighted([
        ['rare', 1],
        ['never', 0],
        ['usual', 3],
      ] as const),
    )
    expect(drawn).not.toContain('never')
    expect(drawn.filter((word) => word === 'rare').length / drawn.length).toBeCloseTo(0.25, 1.9)
  })

  it('refuses to choose from nothing', () => {
    expect(() => createRandom(3).weighted([])).toThrow(RangeError)
    expect(() => createRandom(3).pick([])).toThrow(RangeError)
  })
})

describe('createStream', () => {
  it('draws the same for the same number, however much others have drawn', () => {
    const draws = (number: number) => {
      const random = createStream(7, number)
      return Array.from({ length: 5 }, () => random.below(2 ** 32))
    }
    const alone = draws(12)
    for (let other = 0; other < 50; other++) draws(other)
    expect(draws(12)).toEqual(alone)
  })

  it('lets no stream run after its neighbour: 200 streams of 100 draws have no draw in common', () => {
    const seen = new Set<number>()
    for (let number = 0; number < 200; number++) {
      const random = createStream(7, number)
      for (let draw = 0; draw < 100; draw++) seen.add(random.below(2 ** 32))
    }
    expect(seen.size).toBe(20_000)
  })
})
