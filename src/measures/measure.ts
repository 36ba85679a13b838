import type { Measure as MeasureResource } from 'fhir/r4'
import type { Criterion } from '../criteria/criterion.ts'
import type { FeedKind } from '../record/field.ts'

/** A published standard as the measure's JSON states it; absent from descriptive measures. */
export interface Standard {
  readonly name: string
  readonly minimum?: number
  readonly aspirational?: number
  /** True where the figure is recalled from memory and not re-read. */
  readonly fromMemory: boolean
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
  readonly scoring: 'proportion' | 'ratio' | 'continuous-variable'
  readonly improvement: 'increase' | 'decrease'
  readonly criteria: {
    readonly initialPopulation: Criterion
    /** Denominator of a proportion or ratio; measure population of a continuous variable. */
    readonly denominator: Criterion
    readonly exclusion?: Criterion
    readonly exception?: Criterion
    /** Absent for a continuous variable. */
    readonly numerator?: Criterion
    /** Value observed per examination: of the numerator for a ratio, of the measure population for a continuous variable. */
    readonly observation?: Criterion
    /** Fewest and most that the observation could be, where the record leaves it open. */
    readonly observationLower?: Criterion
    readonly observationUpper?: Criterion
    /** Counted beside among those not met, for example polyps that can have no histology. */
    readonly countedBeside?: Criterion
  }
  /** Unit of the score: '1' for proportions and ratios, otherwise UCUM. */
  readonly scoreUnit: string
  /** Histology may still change the answer. */
  readonly waitsForHistology: boolean
  /** Days during which an event still counts; absent when the measure has no event window. */
  readonly eventWindowDays?: number
  /** Feeds without which the measure has no meaning. */
  readonly needs: readonly FeedKind[]
  readonly standard?: Standard
  readonly attribution: 'operator'
  /** The published Measure, served unchanged. */
  readonly resource: MeasureResource
}
