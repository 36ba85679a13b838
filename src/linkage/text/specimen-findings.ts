import type { DiagnosisWord } from './diagnosis-words.ts'
import type { Heading } from './headings.ts'
import { addDetail, type Detail, type Said } from './said.ts'
import type { TextFinding } from './text-findings.ts'

/** Adds a diagnosis, or what is new in it to the same diagnosis said before. */
export function addSaid(drafts: Said[], said: Said): void {
  const same = drafts.find(
    (one) =>
      one.histology === said.histology &&
      agrees(one.villous, said.villous) &&
      agrees(one.site, said.site) &&
      (said.again || one.count === undefined || said.count === undefined),
  )
  if (!same) drafts.push(said)
  else Object.assign(same, { ...said, ...same })
}

function agrees<T>(one: T | undefined, other: T | undefined): boolean {
  return one === undefined || other === undefined || one === other
}

/** Adds to the last diagnosis what a later statement says of its architecture and dysplasia; dysplasia without a lesion is its own. */
export function addLater(drafts: Said[], { villous, dysplasia, noHighGrade }: Detail): void {
  const adenoma = drafts.findLast(({ histology }) => histology === 'conventional-adenoma')
  const last = adenoma ?? drafts.findLast(({ histology }) => histology !== 'cancer')
  const add = (said: Said, word: DiagnosisWord, isDenied: boolean) => addDetail(said, word, isDenied)
  if (villous !== undefined && adenoma) add(adenoma, { kind: 'villous-part' }, !villous)
  if (noHighGrade && adenoma) add(adenoma, { kind: 'dysplasia', grade: 'high-grade', named: true }, true)
  if (dysplasia === undefined) return
  const target = last ?? { histology: 'other', again: false, plural: false, fragments: false }
  if (last === undefined && !drafts.some(({ histology }) => histology === 'cancer')) drafts.push(target)
  if (dysplasia !== 'ungraded') add(target, { kind: 'dysplasia', grade: dysplasia, named: true }, false)
}

/** Diagnoses of one heading as findings, one for each specimen label. */
export function finished(drafts: readonly Said[], heading: Heading, labels: readonly string[]): TextFinding[] {
  const lesions = drafts.filter(({ histology }) => histology !== 'other')
  const others = drafts.filter(({ histology }) => histology === 'other')
  // Beside a lesion, anything else is the tissue around it; of several remarks on one tissue the one with dysplasia counts.
  const other = others.find(({ dysplasia }) => dysplasia !== undefined) ?? others[0]
  const kept = lesions.length > 0 ? lesions : other ? [other] : []
  return kept.flatMap((said) => {
    const { histology, villous, dysplasia } = said
    const sole = kept.length === 1 && said.plural && !said.fragments
    const count = said.count ?? (sole && labels.length <= 1 ? heading.polyps : undefined)
    const site = said.site ?? heading.site
    const size = said.sizeMillimetres ?? heading.sizeMillimetres
    const finding: TextFinding = {
      histology,
      ...(count === undefined ? {} : { count }),
      ...(site === undefined ? {} : { site }),
      ...(size === undefined ? {} : { sizeMillimetres: size }),
      ...(villous === undefined ? {} : { villous }),
      ...(dysplasia === undefined ? {} : { dysplasia }),
      ...(heading.random ? { inRandomBiopsy: true } : {}),
    }
    return labelled(finding, labels, kept.length)
  })
}

/** Whether a heading's diagnoses hold a lesion that is said of more than one, without their number. */
export function isUncounted(drafts: readonly Said[], { polyps }: Heading, labels: readonly string[]): boolean {
  return (
    labels.length <= 1 &&
    polyps === undefined &&
    drafts.some(({ histology, plural, fragments, count }) => {
      return histology !== 'other' && plural && !fragments && count === undefined
    })
  )
}

/** A diagnosis of several specimens is one finding for each, unless its number, or another diagnosis, leaves open which. */
function labelled(finding: TextFinding, labels: readonly string[], diagnoses: number): TextFinding[] {
  if (labels.length === 0) return [finding]
  if (labels.length === 1) return [{ ...finding, specimenLabel: labels[0] ?? '' }]
  const { count, ...each } = finding
  if (diagnoses > 1 || (count !== undefined && count !== labels.length)) return [finding]
  return labels.map((specimenLabel) => ({ ...each, specimenLabel }))
}
