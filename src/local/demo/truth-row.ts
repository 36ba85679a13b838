import type { DemoReason, UnitId } from './region.ts'
import type { TruthDetails } from './truth-details.ts'
import type { Handling, Landmark, Nature, Retrieval, Site, StopReason, Tool } from './truth-words.ts'

export interface TruthPolyp {
  readonly site: Site
  readonly sizeMillimetres?: number
  /** Upper bound, where nothing but a bound was written. */
  readonly sizeAtMostMillimetres?: number
  readonly shape?: 'pedunculated' | 'sessile' | 'flat' | 'depressed'
  readonly handling?: Handling
  readonly tool?: Tool
  readonly resection?: 'en-bloc' | 'piecemeal'
  readonly retrieval?: Retrieval
  readonly tattooed?: boolean
  /** Class guessed at endoscopy from its look. */
  readonly predictedHistology?: Nature
  /** It looked malignant. */
  readonly suspectedCancer?: boolean
  /** Judged not to be removable by endoscope. */
  readonly inaccessible?: boolean
  readonly removalAttempted?: boolean
  readonly sentForSurgery?: boolean
  /** Whether its removal was judged complete. */
  readonly clearance?: 'complete' | 'incomplete'
  /** What it truly was, whether or not histology ever says so. */
  readonly nature: Nature
  /** What a final report that names its jar says: the class, the grade of dysplasia, and whether an adenoma has a villous part. */
  readonly histology?: Nature
  readonly dysplasia?: 'low-grade' | 'high-grade'
  readonly villous?: boolean
}

/** Preparation as it was written down. */
export type TruthPreparation =
  | { readonly kind: 'segments'; readonly left?: number; readonly transverse?: number; readonly right?: number }
  | { readonly kind: 'total'; readonly total: number }
  | { readonly kind: 'level'; readonly adequate: boolean }

/**
 * What happened in one examination and what was written down of it, decided before any resource exists. It never
 * passes through linkage or criteria: figures counted from these rows are what the service's figures are held against.
 * `undefined` means that it was deliberately not recorded.
 */
export interface TruthRow extends TruthDetails {
  /** The Procedure, as Type/id. */
  readonly procedure: string
  /** Only an examination counts; the other resources are what records have besides. */
  readonly kind: 'examination' | 'copy' | 'not-done' | 'entered-in-error' | 'undated'
  readonly copyOf?: string
  readonly patient: string
  readonly unit?: UnitId
  /** `system|value` of the true operator, where the record says who it was. */
  readonly operator?: string
  readonly operatorRole?: 'independent' | 'trainee'
  readonly supervisor?: string
  readonly supervisorInRoom?: boolean
  /** Civil date in London. */
  readonly date?: string
  readonly age?: number
  readonly sex?: 'female' | 'male' | 'other' | 'unknown'
  readonly reason?: DemoReason
  readonly setting?: 'outpatient' | 'inpatient' | 'emergency'
  readonly intent: 'complete' | 'limited'
  readonly inflammatoryBowelDisease: boolean
  readonly hereditarySyndrome: boolean
  readonly earlierResection: boolean
  /** State of the examination's own report; absent where there is none. */
  readonly report?: 'preliminary' | 'final'
  readonly stopped: boolean
  readonly stopReason?: StopReason
  readonly extent?: Site
  readonly photographs: readonly Landmark[]
  readonly insertionMinutes?: number
  readonly withdrawalMinutes?: number
  readonly preparation?: TruthPreparation
  readonly comfort?: number
  readonly attachment?: 'before-insertion' | 'added-later' | 'none'
  readonly attachmentKind?: 'cuff' | 'cap'
  readonly polyps: readonly TruthPolyp[]
  /** Pots of biopsies that were not taken from a polyp. */
  readonly randomBiopsies: number
  /** State of its pathology on 2026-08-15, with a lag of 60 days. */
  readonly pathology: 'not-sent' | 'pending' | 'final' | 'unreadable' | 'missing'
  /** Conventional adenomas that a final report confirms. */
  readonly confirmedAdenomas: number
  readonly bleedingDay?: number
  readonly perforationDay?: number
}
