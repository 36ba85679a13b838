import type { Measure as MeasureResource } from 'fhir/r4'
import type { Criterion } from '../criteria/criterion.ts'
import type { FeedKind } from '../record/field.ts'
import type { Dimension } from './dimensions.ts'

/** A published standard as the measure's JSON states it; absent from descriptive measures. */
export interface Standard {
  readonly name: string
  readonly minimum?: number
  readonly aspirational?: number
  /** True where the figure is recalled from memory and not re-read. */
  readonly fromMemory: boolean
  /** Stratum to which it applies, such as `sex=male`; absent where it applies to the whole. */
  readonly stratum?: string
}

/** Examinations of one population that are counted beside it as well, because they need to be known. */
export interface Beside {
  readonly description: string
  readonly population: 'numerator' | 'denominator' | 'denominator-exclusion'
  readonly criterion: Criterion
}

/**
 * For whom an examination counts: who performed it; who supervised it in the room; both; or the unit alone, where no person's
 * figure is ever made.
 */
export const attributions = ['operator', 'supervisor-in-room', 'operator-or-supervisor-in-room', 'unit-only'] as const
export type Attribution = (typeof attributions)[number]

/** A stratifier of a measure: its id in the file, and the dimensions that make its strata. */
export interface Stratifier {
  readonly id: string
  readonly dimensions: readonly Dimension[]
}

/**
 * A measure ready to count: what the build step made of one Measure JSON file. Plain data, so that it travels inside
 * the worker's bundle; the criteria become closures once, at start.
 */
export interface MeasureDefinition {
  readonly id: string
  readonly url: string
  readonly version: string
  readonly title: string
  /** A cohort is counted, and has no score. */
  readonly scoring: 'proportion' | 'ratio' | 'continuous-variable' | 'cohort'
  /** Absent where neither more nor less is better. */
  readonly improvement?: 'increase' | 'decrease'
  readonly criteria: {
    readonly initialPopulation: Criterion
    /** Denominator of a proportion or ratio; measure population of a continuous variable; absent for a cohort. */
    readonly denominator?: Criterion
    readonly exclusion?: Criterion
    readonly exception?: Criterion
    /** Absent for a continuous variable and a cohort. */
    readonly numerator?: Criterion
    /** Value observed per examination: of the numerator for a ratio, of the measure population for a continuous variable. */
    readonly observation?: Criterion
    /** Fewest and most that the observation could be, where the record leaves it open. */
    readonly observationLower?: Criterion
    readonly observationUpper?: Criterion
    /** Things counted in a denominator of things and not of examinations, such as polyps; they number the ones whose outcome is recorded. */
    readonly denominatorObservation?: Criterion
    /** Things that belong to it, but whose outcome is not recorded. */
    readonly itemsNotRecorded?: Criterion
    /** Things of which it is not recorded whether they belong to it. */
    readonly itemsUndecided?: Criterion
  }
  /** How the values of a continuous variable are summed up. */
  readonly aggregate?: 'mean' | 'median'
  readonly besides: readonly Beside[]
  /** The cases are to be reviewed one by one: a unit may ask for their list. */
  readonly reviewList: boolean
  /** What its stratifiers divide by: each one dimension, or several combined. */
  readonly stratifiers: readonly Stratifier[]
  /** Unit of the score: '1' for proportions and ratios, otherwise UCUM. */
  readonly scoreUnit: string
  /** Histology may still change the answer. */
  readonly waitsForHistology: boolean
  /** Histology decides who is in, so that what it leaves open is not yet open for good. */
  readonly eligibilityWaitsForHistology: boolean
  /** Days during which an event still counts; absent when the measure has no event window. */
  readonly eventWindowDays?: number
  /** Feeds without which the measure has no meaning. */
  readonly needs: readonly FeedKind[]
  /** The standard of the whole. */
  readonly standard?: Standard
  /** Standards of single strata, such as those for men and for women. */
  readonly stratumStandards: readonly Standard[]
  readonly attribution: Attribution
  /** The published Measure, served unchanged. */
  readonly resource: MeasureResource
}
