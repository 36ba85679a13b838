import type { Unit } from '../config.ts'
import type { MeasureDefinition, Stratifier } from '../measures/measure.ts'
import type { Interval } from '../statistics/interval.ts'

/** Counts and statistics of one group: the whole report, one unit, or one practitioner. */
export interface GroupResult {
  /** Settled days only: these recompute the score. */
  readonly settled: {
    readonly initialPopulation: number
    /** excluded + excepted + met + not met */
    readonly denominator: number
    readonly excluded: number
    readonly excepted: number
    /** For a continuous variable: examinations with a value. */
    readonly met: number
    readonly notMet: number
    /** Sum of observed values (ratio, continuous variable). */
    readonly valueSum?: number
    /** Of a ratio: what the sum is a part of, examinations or the things it counts. */
    readonly overSum?: number
    /** Things that a ratio counts: outcome not recorded, and not recorded whether they belong. */
    readonly itemsNotRecorded?: number
    readonly itemsUndecided?: number
  }
  /** Examinations counted beside, in the order of the measure's besides. */
  readonly besides: readonly number[]
  /** Everything that is in none of the populations above, by reason. Zero counts are left out. */
  readonly apart: Readonly<Partial<Record<ApartReason, number>>>
  /** Absent where nothing can be calculated; `absentBecause` then says why. */
  readonly score?: number
  readonly absentBecause?: AbsentReason
  readonly interval?: Interval & { readonly method: string }
  /** What the score would be if all that is not recorded were unmet, or met; settled days only. */
  readonly bounds?: { readonly lower: number; readonly upper: number }
  /** The same over the whole period, pending examinations included. */
  readonly wholePeriodBounds?: { readonly lower: number; readonly upper: number }
  /** More than the allowed share is not recorded: the bounds, not the score, are to be read. */
  readonly readBounds: boolean
}

export const apartReasons = [
  /** Initial population or denominator could not be decided. */
  'eligibility-not-recorded',
  /** In the denominator, but nothing in the record decides the numerator. */
  'not-recorded',
  /** Histology or an event may still come. */
  'pending',
  /** Of the pending: the numerator is true already (an event to review at once). */
  'pending-already-met',
  /** On days after the last settled one, though settled themselves. */
  'later-met',
  'later-not-met',
  'later-excluded',
  'later-excepted',
  'later-not-recorded',
  /** Kept in, though an exclusion could not be decided. */
  'exclusion-not-recorded',
  /** Outside initial population or denominator. */
  'out',
  /** The source does not feed what the measure needs. */
  'not-available',
  /** In the unit's figures, but in no practitioner's. */
  'unattributed',
] as const
export type ApartReason = (typeof apartReasons)[number]

export type AbsentReason =
  /** The source does not feed what the measure needs. */
  | 'not-available'
  /** No examination of the period is settled and eligible. */
  | 'nothing-settled'
  /** Less than half of the period's eligible examinations lie on settled days. */
  | 'too-little-settled'
  /** Examinations are in the denominator, but of none is the outcome recorded. */
  | 'nothing-recorded'
  /** No examination is in the denominator. */
  | 'nobody-eligible'
  /** A cohort is counted and not divided. */
  | 'no-score'

export interface Stratum extends GroupResult {
  /** Unit id, or practitioner key; absent for examinations without one. */
  readonly key?: string
}

/** Examinations that have the same of every dimension of a stratifier. */
export interface Cell extends GroupResult {
  /** One key per dimension; undefined where that is not recorded. */
  readonly keys: readonly (string | undefined)[]
}

/** The strata of one further stratifier of a measure. */
export interface Division {
  readonly stratifier: Stratifier
  readonly cells: readonly Cell[]
}

/** One measure over one period: everything a MeasureReport or a page says. */
export interface MeasureResult {
  readonly measure: MeasureDefinition
  /** Civil dates, both inclusive. */
  readonly period: { readonly start: string; readonly end: string }
  /** Instant as of which the record was read. */
  readonly asOf: string
  /** Last civil date through which everything in the report is settled; absent when not even the first day is. */
  readonly settledThrough?: string
  readonly scope: { readonly unit?: Unit; readonly practitioner?: string }
  readonly whole: GroupResult
  readonly units: readonly Stratum[]
  /** Empty where the measure counts for the unit only. */
  readonly practitioners: readonly Stratum[]
  /** The other stratifiers of the measure: by month, by reason, by several things combined. */
  readonly divisions: readonly Division[]
  /** Of a measure whose cases are reviewed: every one, as source/Procedure/id, in order of day. */
  readonly cases: readonly string[]
  /** How events become known, of every source in the report; only where the measure has an event window. */
  readonly eventsKnownBy: readonly string[]
  /** Colonoscopies that were read but not owned by any period or refused, by reason. */
  readonly leftOut: Readonly<Record<string, number>>
  /** What the source could not deliver; empty when the pull was complete. Never holds patient data. */
  readonly incomplete: readonly string[]
  /** Software-readable display names: practitioner keys are shown as they are. */
  readonly unitNames: Readonly<Record<string, string>>
}
