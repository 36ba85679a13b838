import type { Colonoscopy, Polyp } from '../record/colonoscopy.ts'
import type { Diagnosis } from './diagnoses.ts'

type AdvancedFindings = Pick<
  Colonoscopy,
  'largestAdenomaMillimetres' | 'villousAdenomaFound' | 'highGradeDysplasiaFound' | 'colitisDysplasiaFound'
>

/** What pathology said of one examination, as far as it bears on how advanced the findings are. */
export interface Confirmed {
  /** Every diagnosis of final reports. */
  readonly diagnoses: readonly Diagnosis[]
  readonly polyps: readonly Polyp[]
  readonly adenomaFound: boolean | undefined
  readonly adenomaCount: number | undefined
  /** Nothing that could still be an adenoma is without a diagnosis. */
  readonly isAllTold: boolean
  /** Dysplasia of flat mucosa: see {@link flatDysplasia}. */
  readonly colitisDysplasia: boolean | undefined
}

/** How advanced the adenomas of an examination are. */
export function advancedFindings(confirmed: Confirmed): AdvancedFindings {
  const { diagnoses, isAllTold, adenomaFound } = confirmed
  const adenomas = diagnoses.filter(({ histology }) => histology === 'conventional-adenoma')
  /** True with one; false where there is no adenoma, or every adenoma is said to be without. */
  const anyAdenoma = (has: (one: Diagnosis) => boolean | undefined): boolean | undefined => {
    if (adenomas.some((one) => has(one) === true)) return true
    if (adenomaFound === false) return false
    return isAllTold && adenomas.length > 0 && adenomas.every((one) => has(one) === false) ? false : undefined
  }
  return {
    largestAdenomaMillimetres: largestAdenoma(confirmed),
    villousAdenomaFound: anyAdenoma(({ villous }) => villous),
    highGradeDysplasiaFound: anyAdenoma(({ dysplasia }) =>
      dysplasia === undefined ? undefined : dysplasia === 'high-grade',
    ),
    colitisDysplasiaFound: confirmed.colitisDysplasia,
  }
}

/** Largest endoscopic size among the confirmed adenomas, known only where none of them can be larger. */
function largestAdenoma({ polyps, adenomaCount }: Confirmed): number | undefined {
  if (adenomaCount === undefined || adenomaCount === 0) return undefined
  let largest: number | undefined
  let named = 0
  for (const { histology, sizeMillimetres } of polyps) {
    if (histology !== 'conventional-adenoma') continue
    named++
    if (sizeMillimetres !== undefined && (largest === undefined || sizeMillimetres > largest)) largest = sizeMillimetres
  }
  if (largest === undefined || named !== adenomaCount) return undefined
  for (const { histology, sizeMillimetres, sizeAtMostMillimetres: atMost } of polyps)
    if (
      histology === 'conventional-adenoma' &&
      sizeMillimetres === undefined &&
      !(atMost !== undefined && atMost <= largest)
    )
      return undefined
  return largest
}

/**
 * Whether tissue that no polyp accounts for holds dysplasia and no lesion: dysplasia of flat mucosa.
 *
 * @param loose diagnoses of each pot that no polyp names, and of results without a pot
 * @param mayBeOfPolyp some polyp went without a pot: what lies in a pot that none names may be of it
 */
export function flatDysplasia(
  loose: readonly (readonly Diagnosis[])[],
  mayBeOfPolyp: boolean,
  isAllFinal: boolean,
): boolean | undefined {
  let isOpen = false
  for (const diagnoses of loose) {
    const dysplastic = diagnoses.filter(({ isGrade, dysplasia }) => isGrade && dysplasia !== 'none')
    if (dysplastic.some(({ isRandomBiopsy }) => isRandomBiopsy)) return true
    if (dysplastic.length === 0) continue
    if (!mayBeOfPolyp && diagnoses.every(({ histology }) => histology === 'other')) return true
    isOpen = true
  }
  return isAllFinal && !isOpen ? false : undefined
}
