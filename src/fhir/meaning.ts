/** Everything known of one concept. */
export interface Meaning {
  /** Value sets that hold the code. */
  readonly sets: ReadonlySet<string>
  /** Word of the record, by concept map. */
  readonly words: ReadonlyMap<string, string>
  /** The same concept in the code system of ours. */
  readonly fact: string | undefined
  /** Concept maps in which its codes say different words: it has no word there. */
  readonly disputed: ReadonlySet<string>
}

/** Meaning of what no value set, map or code system of ours knows. */
export const unknownMeaning: Meaning = { sets: new Set(), words: new Map(), fact: undefined, disputed: new Set() }
