import type { Codes } from '../fhir/codes.ts'
import { asObject } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { histologyClasses, isWord } from '../record/words.ts'

export type HistologyClass = (typeof histologyClasses)[number]
export type Dysplasia = 'none' | 'low-grade' | 'high-grade'

/** One thing that pathology says: a diagnosis, or a detail of one. */
export interface Remark {
  /** Absent where it only describes: an architecture. */
  readonly histology: HistologyClass | undefined
  readonly villous: boolean | undefined
  readonly dysplasia: Dysplasia | undefined
  /** It speaks of dysplasia alone: a detail of the lesion beside it, or, with no lesion, a finding (class "other") of its own. */
  readonly isGrade: boolean
  /** Said to be found in biopsies taken at random. */
  readonly isRandomBiopsy: boolean
}

/** Worst first: a polyp with two diagnoses is what its worst one says. */
export const bySeverity: readonly HistologyClass[] = [
  'cancer',
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
  'other',
]
const byGrade: readonly Dysplasia[] = ['high-grade', 'low-grade', 'none']

/** Whether a remark names a lesion; "other" is normal tissue, inflammation, or a detail. */
export const isLesion = ({ histology }: Remark): boolean => histology !== undefined && histology !== 'other'

/** Normal tissue, or whatever excludes every lesion of a class we count. */
export const nothingOfOurs: Remark = {
  histology: 'other',
  villous: undefined,
  dysplasia: undefined,
  isGrade: false,
  isRandomBiopsy: false,
}

/**
 * What one concept says; undefined where nothing of it is known. Of several codings that say different things the worst class
 * stands and the rest are details of it, whatever their order.
 */
export function remarkOf(concept: unknown, codes: Codes): Remark | undefined {
  const codings = asObject(concept)?.coding
  if (!Array.isArray(codings) || codings.length === 1) return remarkIn(codes.of(concept))
  const remarks: Remark[] = []
  for (const coding of codings) {
    const remark = remarkIn(codes.of({ coding: [coding] }))
    if (remark !== undefined) remarks.push(remark)
  }
  return remarks.length === 0 ? undefined : mergedRemark(remarks)
}

/** A code says the same wherever it stands: worked out once. */
const known = new WeakMap<Meaning, Remark | 'nothing'>()

/** What the meaning of one code says. */
function remarkIn(meaning: Meaning): Remark | undefined {
  let remark = known.get(meaning)
  if (remark === undefined) {
    remark = remarkOfMeaning(meaning) ?? 'nothing'
    known.set(meaning, remark)
  }
  return remark === 'nothing' ? undefined : remark
}

function remarkOfMeaning({ sets, words, fact }: Meaning): Remark | undefined {
  const word = words.get('histology') ?? fact
  const histology = isWord(word, histologyClasses) ? word : undefined
  const architecture = words.get('villous')
  const grade = words.get('dysplasia')
  const isGrade = (grade !== undefined || sets.has('dysplasia')) && (histology === undefined || histology === 'other')
  if (histology === undefined && architecture === undefined && !isGrade) return undefined
  return {
    histology: isGrade ? 'other' : histology,
    villous: architecture === undefined ? undefined : architecture === 'villous',
    dysplasia: isWord(grade, byGrade) ? grade : undefined,
    isGrade,
    isRandomBiopsy: false,
  }
}

/** Several remarks on one thing as one: the worst class, the highest grade, villous where any says so. */
export function mergedRemark(remarks: readonly Remark[]): Remark {
  const [only] = remarks
  if (only !== undefined && remarks.length === 1) return only
  const hasLesion = remarks.some(isLesion)
  return {
    histology: bySeverity.find((one) => remarks.some(({ histology }) => histology === one)),
    villous: villousIn(remarks),
    dysplasia: worstGrade(remarks),
    isGrade: !hasLesion && remarks.some(({ isGrade }) => isGrade),
    isRandomBiopsy: remarks.some(({ isRandomBiopsy }) => isRandomBiopsy),
  }
}

/** True where any remark says villous, false where none does and one says tubular. */
export function villousIn(remarks: readonly Remark[]): boolean | undefined {
  let found: boolean | undefined
  for (const { villous } of remarks) if (villous !== undefined) found = found === true || villous
  return found
}

export const worstGrade = (remarks: readonly Remark[]): Dysplasia | undefined =>
  byGrade.find((grade) => remarks.some(({ dysplasia }) => dysplasia === grade))
