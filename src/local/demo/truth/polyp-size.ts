import type { TruthPolyp } from '../truth-row.ts'
import type { Fact } from './definition.ts'

/** Where nothing but an upper bound was written, the polyp may have any smaller size. */
export const reaches = ({ sizeMillimetres: size, sizeAtMostMillimetres: most }: TruthPolyp, least: number): Fact => {
  if (size !== undefined) return size >= least
  return most !== undefined && most < least ? false : undefined
}

export const staysWithin = ({ sizeMillimetres, sizeAtMostMillimetres }: TruthPolyp, most: number): Fact => {
  const greatest = sizeMillimetres ?? sizeAtMostMillimetres
  if (greatest !== undefined && greatest <= most) return true
  return sizeMillimetres === undefined ? undefined : false
}
