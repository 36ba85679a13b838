/** A value on which typed times pile up. */
export interface Heap {
  readonly value: number
  readonly count: number
  readonly of: number
}

/** Times from which a heap can be told from chance. */
const enough = 30
/**
 * Share from which one value is called a heap. Times of withdrawal or insertion spread over many minutes, and whole minutes
 * near the middle hold some 15 % each; a choice of ours, no source.
 */
const heapShare = 0.3

/** The value that holds at least three tenths of all times, if there is one. It is flagged, and never corrected. */
export function heapedValue(counts: ReadonlyMap<number, number>): Heap | undefined {
  let of = 0
  let most: { value: number; count: number } | undefined
  for (const [value, count] of counts) {
    of += count
    if (most === undefined || count > most.count || (count === most.count && value < most.value))
      most = { value, count }
  }
  return most !== undefined && of >= enough && most.count / of >= heapShare ? { ...most, of } : undefined
}
