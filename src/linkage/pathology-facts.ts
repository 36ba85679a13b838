import type { Colonoscopy } from '../record/colonoscopy.ts'

export type PathologyFacts = Pick<
  Colonoscopy,
  | 'pathology'
  | 'histologySource'
  | 'adenomaFound'
  | 'traditionalSerratedFound'
  | 'sessileSerratedFound'
  | 'cancerFound'
  | 'adenomaCount'
  | 'adenomaCountLower'
  | 'adenomaCountUpper'
  | 'traditionalSerratedCount'
  | 'sessileSerratedCount'
  | 'hyperplasticCount'
  | 'cancerCount'
  | 'otherHistologyCount'
  | 'largestAdenomaMillimetres'
  | 'villousAdenomaFound'
  | 'highGradeDysplasiaFound'
  | 'colitisDysplasiaFound'
>

export interface PathologyContext {
  /** Civil date of the as-of instant in the unit's zone. */
  readonly asOfDate: string
  readonly lagDays: number
  /** The source sends every pathology report and specimen. */
  readonly feedComplete: boolean
  /** Polyps newly found, where that is recorded. */
  readonly polypCount: number | undefined
  /** How many of them pathology alone tells of. */
  readonly inPathology: number
}
