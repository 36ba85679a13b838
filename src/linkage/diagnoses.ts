import { type HistologyClass, isLesion, mergedRemark, type Remark, villousIn, worstGrade } from './remark.ts'

/** A remark that names a class. */
export interface Diagnosis extends Remark {
  readonly histology: HistologyClass
}

/** Lesions of which dysplasia beside them is a detail. */
const canBeDysplastic: readonly (HistologyClass | undefined)[] = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'cancer',
]

/**
 * Remarks of one result. Where the result itself names a lesion, parts of the same class only describe it. Beside a lesion,
 * everything else is a detail of it (a grade, an architecture, normal mucosa around it); without one, all is one finding.
 *
 * @param own what the result's value says
 * @param parts what its components and members add
 */
export function remarksOfResult(own: Remark | undefined, parts: readonly Remark[]): readonly Remark[] {
  if (parts.length === 0) return own === undefined ? parts : [own]
  const all = own === undefined ? parts : [own, ...parts]
  if (!all.some(isLesion)) return [mergedRemark(all)]
  const ofOwnClass = (part: Remark) => own !== undefined && part.histology === own.histology
  const others = parts.filter((part) => isLesion(part) && !ofOwnClass(part))
  const lesions =
    own !== undefined && isLesion(own) ? [mergedRemark([own, ...parts.filter(ofOwnClass)]), ...others] : others
  return withDetails(
    lesions,
    all.filter((one) => !isLesion(one)),
  )
}

/**
 * Whether a result that is no lesion itself holds tissue without a lesion beside one: around it, or of another piece where the
 * pots hold several.
 */
export function holdsOtherTissue(own: Remark | undefined, parts: readonly Remark[]): boolean {
  if (own !== undefined && isLesion(own)) return false
  const all = own === undefined ? parts : [own, ...parts]
  return all.some(isLesion) && all.some(({ histology, isGrade }) => histology === 'other' && !isGrade)
}

/**
 * Diagnoses of some pots, of all that is said of them. A grade of dysplasia, or an architecture, told apart is a detail of the
 * lesion of the same pot; a grade in a pot without a lesion that it could be of is a finding of its own.
 */
export function diagnosesOf(remarks: readonly Remark[]): readonly Diagnosis[] {
  const isDetail = ({ histology, isGrade, isRandomBiopsy }: Remark) =>
    histology === undefined || (isGrade && !isRandomBiopsy)
  if (!remarks.some(isDetail) || !remarks.some(({ histology }) => canBeDysplastic.includes(histology)))
    return remarks.filter(hasClass)
  const lesions = withDetails(remarks.filter(isLesion), remarks.filter(isDetail))
  return [...lesions, ...remarks.filter((one) => !isLesion(one) && !isDetail(one))].filter(hasClass)
}

/** Whether a remark names a class. */
export const hasClass = (remark: Remark): remark is Diagnosis => remark.histology !== undefined

/**
 * Gives details to the lesion they can only be of. Where several lesions could have them, the worst detail is one lesion's, and
 * a detail that is not the worst is nobody's.
 */
function withDetails(lesions: readonly Remark[], details: readonly Remark[]): readonly Remark[] {
  const villous = villousIn(details)
  const dysplasia = worstGrade(details)
  let told = lesions
  if (villous !== undefined) {
    const adenomas = lesions.filter(({ histology }) => histology === 'conventional-adenoma')
    const [first] = adenomas
    if (first && (adenomas.length === 1 || villous))
      told = replaced(told, first, { ...first, villous: villous || first.villous === true })
  }
  if (dysplasia !== undefined) {
    const capable = told.filter(({ histology }) => canBeDysplastic.includes(histology) && histology !== 'cancer')
    const [first] = capable
    const areAdenomas = capable.every(({ histology }) => histology === 'conventional-adenoma')
    if (first && (capable.length === 1 || (areAdenomas && dysplasia === 'high-grade')))
      told = replaced(told, first, { ...first, dysplasia: worstGrade([first, ...details]) })
  }
  return told
}

/** The first of some remarks that is `one` gives way to another. Two lesions may be told by one and the same remark. */
function replaced(remarks: readonly Remark[], one: Remark, by: Remark): readonly Remark[] {
  const at = remarks.indexOf(one)
  return remarks.map((remark, index) => (index === at ? by : remark))
}
