import type { Details } from './details/details.ts'
import type { DemoReason, DemoUnit, Endoscopist } from './region.ts'
import type { TruthRow } from './truth-row.ts'
import type { Nature } from './truth-words.ts'

/** What was known of a patient, and when it was written down. */
export interface HistoryItem {
  readonly kind: HistoryKind
  readonly recordedDay: number
  /** When it began, where that is written. */
  readonly onsetDay?: number
  /** When it ended: a treatment that was stopped. */
  readonly endedDay?: number
  /** False for a suspicion that was refuted later: it never counts. */
  readonly stands: boolean
  /** Written down as a suspicion. */
  readonly suspected?: true
  /** Written with a code that speaks of the past only. */
  readonly past?: true
  readonly activity?: 'quiescent' | 'active' | 'severe'
  readonly part?: ResectedPart
}

export type HistoryKind =
  | 'inflammatory-bowel-disease'
  | 'hereditary-syndrome'
  | 'earlier-resection'
  | 'stricture'
  | 'severe-diverticulosis'
  | 'pelvic-surgery-or-radiotherapy'
  | 'colorectal-cancer'
  | 'antithrombotic-use'
  | 'family-history-of-colorectal-cancer'
  | 'earlier-adenoma'

export type ResectedPart = 'right' | 'transverse' | 'left' | 'rectum'

export interface PatientPlan {
  readonly id: string
  /** Whole date of birth. */
  readonly birthDate: string
  /** As far as it is recorded: a day, a month, a year, or not at all. */
  readonly birthDateWritten: string | undefined
  readonly sex: 'female' | 'male' | 'other' | 'unknown'
  readonly history: HistoryItem[]
  /** How a death is written: with its date, or as a mere yes. */
  readonly death?: { readonly day: number; readonly dated: boolean }
}

/** One jar sent to pathology: everything in it is of one nature. */
export interface Jar {
  readonly nature: Nature
  /** Positions in the row's polyps; none for biopsies that were not taken from a polyp. */
  readonly polyps: number[]
}

export type PathologyForm =
  | 'none'
  | 'final'
  | 'amended'
  | 'replaces-preliminary'
  | 'beside-withdrawn'
  | 'preliminary-only'
  | 'one-jar-outstanding'
  | 'after-as-of'
  | 'unreadable'

export type EventForm =
  | 'condition'
  | 'condition-as-complication'
  | 'adverse-event'
  | 'adverse-event-unlinked'
  | 'condition-and-adverse-event'
  | 'complication-code'
  | 'controlled-at-once'
  | 'near-miss'

export interface EventPlan {
  readonly kind: 'bleeding' | 'perforation'
  readonly day: number
  readonly form: EventForm
}

/** One examination: its truth, and how its records were written. */
export interface Plan {
  readonly row: TruthRow
  /** Begins the ids of its resources. */
  readonly key: string
  readonly unit: DemoUnit
  readonly day: number
  /** Minutes after midnight in London, and length in minutes. */
  readonly minute: number
  readonly length: number
  readonly patient: PatientPlan
  readonly person: Endoscopist
  readonly supervisor?: string
  readonly form: {
    readonly encounter: boolean
    readonly unitStated: boolean
    readonly performer: 'person' | 'organisation' | 'two-people'
    readonly date: 'period' | 'moment' | 'day'
    readonly copy: boolean
    readonly gastroscopy: boolean
    /** All stated reasons; the row holds the one that goes before the others. */
    readonly reasons: readonly DemoReason[]
    readonly reasonBy: 'fact-code' | 'icd' | 'procedure-code'
    readonly withdrawalAsBound: boolean
    /** Chooses among equivalent codes. */
    readonly variant: number
  }
  readonly jars: readonly Jar[]
  readonly pathology: { readonly form: PathologyForm; readonly issuedDay: number }
  readonly events: readonly EventPlan[]
  /** What is recorded beyond the facts of the first measures; decided after everything else. */
  readonly details?: Details
}
