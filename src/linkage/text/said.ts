import type { DiagnosisWord } from './diagnosis-words.ts'
import type { BowelSite, Dysplasia, HistologyClass } from './text-findings.ts'

/** A diagnosis of one statement, before what other statements add to it. */
export interface Said {
  readonly histology: HistologyClass
  /** "The adenoma": the one spoken of before. */
  readonly again: boolean
  readonly plural: boolean
  readonly fragments: boolean
  count?: number
  site?: BowelSite
  sizeMillimetres?: number
  villous?: boolean
  dysplasia?: Dysplasia
}

/** What a statement says that belongs to a diagnosis it does not name itself. */
export interface Detail {
  villous?: boolean
  /** Highest grade stated, or that there is dysplasia without a grade. */
  dysplasia?: Dysplasia | 'ungraded'
  noHighGrade?: boolean
}

/** Adds to a diagnosis what was said of architecture and dysplasia. */
export function addDetail(said: Said, what: DiagnosisWord, isDenied: boolean): void {
  if (what.kind === 'villous-part' && said.histology === 'conventional-adenoma' && said.villous !== true)
    said.villous = !isDenied
  if (what.kind !== 'dysplasia') return
  if (!isDenied && what.grade !== undefined && said.dysplasia !== 'high-grade') said.dysplasia = what.grade
  // Every adenoma is dysplastic, so one without the high grade has the low.
  if (isDenied && what.grade === 'high-grade' && said.histology === 'conventional-adenoma')
    said.dysplasia ??= 'low-grade'
}

/** Keeps what was said of architecture and dysplasia for a diagnosis that another statement names. */
export function gather(detail: Detail, what: DiagnosisWord, isDenied: boolean): void {
  if (what.kind === 'villous-part') detail.villous = detail.villous === true || !isDenied
  if (what.kind !== 'dysplasia') return
  if (isDenied) {
    if (what.grade === 'high-grade') detail.noHighGrade = true
    return
  }
  // A bare "low grade" is no finding of its own.
  if (what.grade !== undefined) {
    if (detail.dysplasia !== 'high-grade' && (what.named || detail.dysplasia !== undefined))
      detail.dysplasia = what.grade
  } else detail.dysplasia ??= 'ungraded'
}
