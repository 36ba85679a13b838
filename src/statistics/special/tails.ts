/** Both tails of a distribution function, so that nobody forms 1 − p and loses the digits of the small one. */
export interface Tails {
  readonly lower: number
  readonly upper: number
}

/** Which tail a given probability is the area of. */
export type Tail = keyof Tails
