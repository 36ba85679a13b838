import type { Bounds } from '../fhir/quantity.ts'

/** What is stated of a size: a value in millimetres, or bounds of it. */
export type StatedSize = number | Bounds

export interface PolypSize {
  readonly exact: number | undefined
  readonly atLeast: number | undefined
  readonly atMost: number | undefined
  /** The statements cannot all be so: no size stands, and the bounds are those that allow every one of them. */
  readonly isContradictory: boolean
}

const unknown: PolypSize = { exact: undefined, atLeast: undefined, atMost: undefined, isContradictory: false }

/**
 * Size of one polyp, in millimetres, from all that is stated of it. A bound, or a range, is not a size. Two different values, or a
 * value outside a stated bound, contradict each other; their order makes no difference.
 */
export function polypSize(stated: readonly StatedSize[]): PolypSize {
  if (stated.length === 0) return unknown
  let exact: number | undefined
  let differ = false
  const lower: number[] = []
  const upper: number[] = []
  for (const one of stated) {
    const { atLeast, atMost } = typeof one === 'number' ? { atLeast: one, atMost: one } : one
    if (atLeast !== undefined) lower.push(atLeast)
    if (atMost !== undefined) upper.push(atMost)
    if (typeof one !== 'number') continue
    differ ||= exact !== undefined && exact !== one
    exact = one
  }
  // A range whose ends are one value is that value.
  const [low, high] = [
    lower.length > 0 ? Math.max(...lower) : undefined,
    upper.length > 0 ? Math.min(...upper) : undefined,
  ]
  if (differ || (low !== undefined && high !== undefined && low > high))
    return {
      exact: undefined,
      atLeast: lower.length === stated.length ? Math.min(...lower) : undefined,
      atMost: upper.length === stated.length ? Math.max(...upper) : undefined,
      isContradictory: true,
    }
  return { exact: exact ?? (low === high ? low : undefined), atLeast: low, atMost: high, isContradictory: false }
}
