export interface Interval {
  readonly lower: number
  readonly upper: number
}
