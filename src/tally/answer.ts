/** What one examination answers to one measure; the order in which these are decided is in `answer-of.ts`. */
export const answerCodes = [
  'out',
  'eligibility-not-recorded',
  'excluded',
  'pending',
  'met',
  'not-recorded',
  'excepted',
  'not-met',
] as const
export type AnswerCode = (typeof answerCodes)[number]

export interface Answer {
  readonly code: AnswerCode
  /** Out of the denominator, or undecided, but in the initial population. */
  readonly inPopulation?: true
  /** Observed value of a ratio's numerator or of a continuous variable. */
  readonly value?: number
  /** Least and most the value could be. */
  readonly lower?: number
  readonly upper?: number
  /** The exclusion could not be decided: it does not exclude, and is counted. */
  readonly exclusionUnrecorded?: true
  /** Pending, but the numerator is true already: an event to review at once. */
  readonly alreadyMet?: true
  /** Things the value is a part of, where a ratio counts things and not examinations. */
  readonly over?: number
  /** Of those things: outcome not recorded, and not recorded whether they belong. */
  readonly itemsNotRecorded?: number
  readonly itemsUndecided?: number
  /** Which of the measure's besides count it, by their place there. */
  readonly besides?: readonly number[]
}
