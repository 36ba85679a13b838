import type { TruthRow } from '../truth-row.ts'

export type TruthAnswer =
  | 'out'
  | 'eligibilityNotRecorded'
  | 'excluded'
  | 'pending'
  | 'met'
  | 'notRecorded'
  | 'excepted'
  | 'notMet'

/** True, false, or not recorded. */
export type Fact = boolean | undefined

/** One measure, by hand: who is in, who is taken out, what counts. */
export interface Definition {
  /** Every condition must hold; one that fails puts the examination out. */
  readonly eligible: (row: TruthRow) => readonly Fact[]
  readonly excluded?: (row: TruthRow) => Fact
  /** Histology may still change the answer. */
  readonly histology?: true
  /** Days during which an event counts, where they have not passed for every examination of the demo. */
  readonly windowDays?: number
  /** Absent for a cohort: whoever is eligible is counted. */
  readonly met?: (row: TruthRow) => Fact
  /** Takes out who has not met it. */
  readonly excepted?: (row: TruthRow) => Fact
  /** Value observed instead of, or beside, a numerator. */
  readonly value?: (row: TruthRow) => number | undefined
  /** Where a ratio counts things and not examinations: how many things with a recorded outcome the value is a part of. */
  readonly over?: (row: TruthRow) => number | undefined
  /** For whom it counts; the operator where nothing is said. */
  readonly persons?: (row: TruthRow) => readonly (string | undefined)[]
}

export type Definitions = Readonly<Record<string, Definition>>

export const over = (age: number | undefined, least: number): Fact => (age === undefined ? undefined : age >= least)

/** Any true is true; else any unknown is unknown. */
export const anyOf = (...facts: readonly Fact[]): Fact =>
  facts.includes(true) ? true : facts.includes(undefined) ? undefined : false
/** Any false is false; else any unknown is unknown. */
export const allOf = (...facts: readonly Fact[]): Fact =>
  facts.includes(false) ? false : facts.includes(undefined) ? undefined : true
export const opposite = (fact: Fact): Fact => (fact === undefined ? undefined : !fact)
