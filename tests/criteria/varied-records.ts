import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import type { Field } from '../../src/record/field.ts'
import { fields } from '../../src/record/fields.ts'

/** A seeded source of whole numbers from 0 up to, not including, `below`; integer arithmetic only. */
export type Draw = (below: number) => number

/** Marsaglia, J Stat Softw 2003;8(14), xorshift with the triple (13, 17, 5). */
export function drawFrom(seed: number): Draw {
  let state = (Math.imul(seed, 2654435761) ^ 0x9e3779b9) >>> 0 || 1
  return (below) => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    return (state >>> 0) % below
  }
}

/** Values at and beside the limits that measures use, and some that no examination has. */
const integers = [-1, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 14, 15, 17, 18, 19, 29, 30, 31, 44, 45, 46, 49, 50, 75, 76, 120]
const decimals = [0, 0.001, 0.3, 0.999, 1, 4.999, 5, 5.001, 5.995, 5.999, 6, 6.001, 9.999, 10, 10.001, 19.5, 20, 33.333]

const required = ['procedure', 'source']

/**
 * Records in which every field is now absent and now holds each of its words, limits and odd values, in combinations that
 * linkage would and would not make: criteria must answer all of them as the `fhirpath` package does.
 */
export function variedRecords(count: number, seed: number): Colonoscopy[] {
  const draw = drawFrom(seed)
  return Array.from({ length: count }, (_, index) => {
    // From nearly complete records to nearly empty ones.
    const recordedOf8 = 1 + (index % 8)
    return rowOf(fields, draw, (name) => required.includes(name) || draw(8) < recordedOf8) as unknown as Colonoscopy
  })
}

function rowOf(model: Readonly<Record<string, Field>>, draw: Draw, isRecorded: (name: string) => boolean) {
  return Object.fromEntries(
    Object.entries(model)
      .filter(([name]) => isRecorded(name))
      .map(([name, field]) => [name, randomValue(field, draw)]),
  )
}

function randomValue(field: Field, draw: Draw): unknown {
  switch (field.type) {
    case 'boolean':
      return draw(2) === 0
    case 'integer':
      return draw(4) === 0 ? draw(130) : pick(integers, draw)
    case 'decimal':
      return draw(2) === 0 ? draw(60_000) / 1000 : pick(decimals, draw)
    case 'code':
      return pick(field.values ?? [], draw)
    case 'date':
      return `2026-${String(1 + draw(12)).padStart(2, '0')}-${String(1 + draw(28)).padStart(2, '0')}`
    case 'string':
      return `Key/${draw(4)}`
    case 'list':
      return Array.from({ length: draw(6) }, () => rowOf(field.of ?? {}, draw, () => draw(4) > 0))
  }
}

function pick<Value>(values: readonly Value[], draw: Draw): Value {
  const value = values[draw(values.length)]
  if (value === undefined) throw new RangeError('nothing to pick from')
  return value
}
