/** Random choices in whole numbers only, so that every platform draws the same ones from the same seed. */
export interface Random {
  /** @returns a whole number from 0 to `limit` − 1; `limit` is at most 2³² */
  below(limit: number): number
  /** @returns a whole number from `least` to `most`, both included */
  between(least: number, most: number): number
  /** @returns true `parts` times in 10,000 */
  chance(parts: number): boolean
  pick<T>(choices: readonly T[]): T
  /** Picks in proportion to whole-number weights. */
  weighted<T>(choices: readonly (readonly [T, number])[]): T
}

/**
 * SplitMix with a 32-bit state: a counter that grows by the golden ratio, and a mixing of its bits.
 * Source: Steele, Lea, Flood, OOPSLA 2014 (the construction); the two multipliers are those of the "lowbias32" search.
 */
export function createRandom(seed: number): Random {
  let counter = seed | 0

  function next(): number {
    counter = (counter + 0x9e3779b9) | 0
    let mixed = counter ^ (counter >>> 16)
    mixed = Math.imul(mixed, 0x21f0aaad)
    mixed ^= mixed >>> 15
    mixed = Math.imul(mixed, 0x735a2d97)
    mixed ^= mixed >>> 15
    return mixed >>> 0
  }

  // The remainder favours small numbers by less than limit ÷ 2³², which no rate in the demo can show.
  const below = (limit: number): number => next() % limit

  function pick<T>(choices: readonly T[]): T {
    const chosen = choices[below(choices.length)]
    if (chosen === undefined) throw new RangeError('pick requires at least 1 choice')
    return chosen
  }

  function weighted<T>(choices: readonly (readonly [T, number])[]): T {
    let left = below(choices.reduce((sum, [, weight]) => sum + weight, 0))
    for (const [choice, weight] of choices) {
      if (left < weight) return choice
      left -= weight
    }
    throw new RangeError('weighted requires at least 1 choice with a weight above 0')
  }

  return {
    below,
    between: (least, most) => least + below(most - least + 1),
    chance: (parts) => below(10_000) < parts,
    pick,
    weighted,
  }
}

/**
 * A stream of its own for one number: what is drawn from it moves nothing that others draw. The seed is mixed once, so that the
 * streams of neighbouring numbers do not run after each other.
 */
export function createStream(seed: number, number: number): Random {
  return createRandom(createRandom(seed + number).below(2 ** 32))
}
