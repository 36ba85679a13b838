import type { TruthRow } from '../truth-row.ts'
import type { Nature } from '../truth-words.ts'
import { confirmed, foundThatIs, type OfPolyp } from './confirmed-lesions.ts'
import { allOf, anyOf, type Fact, opposite } from './definition.ts'
import { reaches, staysWithin } from './polyp-size.ts'
import { histologyKnown } from './row-facts.ts'

/** Months from the least to the most, or the intervals that pass where no surveillance is due. */
export type Cell =
  | { readonly least: number; readonly most: number }
  | { readonly instead: (row: TruthRow) => readonly number[] | undefined }

export interface TableRow {
  /** Absent in the last row, which holds where none before does. */
  readonly when?: (row: TruthRow) => Fact
  readonly cell: Cell
  /** The interval is the same whatever was found at an earlier examination. */
  readonly whateverBefore?: true
}

/** Rows from the shortest interval on: the first that holds decides. */
export type IntervalTable = readonly TableRow[]

const adenoma = 'conventional-adenoma'
const traditional = 'traditional-serrated-adenoma'
const sessile = 'sessile-serrated-lesion'

/** Lesions of one class; undefined while histology is out. */
export const numberOf = (nature: Nature, row: TruthRow): number | undefined =>
  histologyKnown(row) ? confirmed(row).filter((polyp) => polyp.nature === nature).length : undefined
const atLeast = (number: number, nature: Nature, row: TruthRow): Fact => {
  const found = numberOf(nature, row)
  return found === undefined ? undefined : found >= number
}

const piecemeal: OfPolyp = ({ resection }) => (resection === undefined ? undefined : resection === 'piecemeal')
const notPedunculated: OfPolyp = ({ shape }) => (shape === undefined ? undefined : shape !== 'pedunculated')
const dysplastic: OfPolyp = ({ dysplasia }) => (dysplasia === undefined ? undefined : true)
const both =
  (...traits: readonly OfPolyp[]): OfPolyp =>
  (polyp) =>
    allOf(...traits.map((trait) => trait(polyp)))
const of10mm: OfPolyp = (polyp) => reaches(polyp, 10)
const of20mm: OfPolyp = (polyp) => reaches(polyp, 20)

const serratedWithDysplasia = foundThatIs([sessile], dysplastic)
const any10mm = foundThatIs([adenoma, sessile, 'hyperplastic'], of10mm)

/** US Multi-Society Task Force 2020. */
export const us2020: IntervalTable = [
  {
    when: foundThatIs([adenoma, traditional, sessile], both(of20mm, piecemeal)),
    cell: months(6),
    whateverBefore: true,
  },
  { when: (row) => atLeast(11, adenoma, row), cell: months(12), whateverBefore: true },
  {
    when: (row) =>
      anyOf(
        atLeast(5, adenoma, row),
        atLeast(5, sessile, row),
        atLeast(1, traditional, row),
        row.villousAdenomaFound,
        row.highGradeDysplasiaFound,
        foundThatIs([adenoma, sessile], of10mm)(row),
        serratedWithDysplasia(row),
      ),
    cell: months(36),
    whateverBefore: true,
  },
  {
    when: (row) =>
      anyOf(atLeast(3, adenoma, row), atLeast(3, sessile, row), foundThatIs(['hyperplastic'], of10mm)(row)),
    cell: months(36, 60),
    whateverBefore: true,
  },
  { when: (row) => atLeast(1, sessile, row), cell: months(60, 120) },
  { when: (row) => atLeast(1, adenoma, row), cell: months(84, 120) },
  { cell: months(120) },
]

/** European Society of Gastrointestinal Endoscopy 2020: villous or not is the same. */
export const eu2020: IntervalTable = [
  {
    when: foundThatIs([adenoma, traditional, sessile, 'hyperplastic'], both(of20mm, piecemeal)),
    cell: months(3, 6),
    whateverBefore: true,
  },
  {
    when: (row) =>
      anyOf(
        atLeast(5, adenoma, row),
        atLeast(1, traditional, row),
        row.highGradeDysplasiaFound,
        any10mm(row),
        serratedWithDysplasia(row),
      ),
    cell: months(36),
    whateverBefore: true,
  },
  { cell: { instead: () => [120] } },
]

const polypOfAnyClass = [adenoma, traditional, sessile, 'hyperplastic'] as const
const large = both(of20mm, notPedunculated)

/** British guideline 2020: two premalignant polyps of which one is advanced, or five; whatever the history. */
export const uk2020: IntervalTable = [
  { when: foundThatIs(polypOfAnyClass, both(large, piecemeal)), cell: months(2, 6) },
  {
    when: (row) =>
      anyOf(
        premalignant(5, row),
        allOf(
          premalignant(2, row),
          anyOf(row.highGradeDysplasiaFound, atLeast(1, traditional, row), any10mm(row), serratedWithDysplasia(row)),
        ),
        foundThatIs(polypOfAnyClass, large)(row),
      ),
    cell: months(36),
  },
  // Who is more than ten years too young for screening may be seen again after five years, or ten.
  { cell: { instead: ({ age }) => (age === undefined ? undefined : age < 40 ? [60, 120] : []) } },
]

/** Hyperplastic polyps of up to 5 mm in the rectum are not premalignant. */
export const smallInRectum: OfPolyp = (polyp) => allOf(polyp.site === 'rectum', staysWithin(polyp, 5))

function premalignant(number: number, row: TruthRow): Fact {
  const [adenomas, traditionals, sessiles, hyperplastics] = polypOfAnyClass.map((nature) => numberOf(nature, row))
  if (adenomas === undefined || traditionals === undefined || sessiles === undefined || hyperplastics === undefined)
    return undefined
  const named = confirmed(row).filter(({ histology }) => histology === 'hyperplastic')
  const certain = adenomas + traditionals + sessiles
  const fewest = certain + named.filter((polyp) => opposite(smallInRectum(polyp))).length
  const most = certain + hyperplastics - named.filter(smallInRectum).length
  return fewest >= number ? true : most >= number ? undefined : false
}

function months(least: number, most = least): Cell {
  return { least, most }
}
