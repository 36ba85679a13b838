import type { TruthPolyp, TruthRow } from '../truth-row.ts'
import { found, type OfPolyp } from './confirmed-lesions.ts'
import { allOf, anyOf, type Definition, type Fact, opposite, over } from './definition.ts'
import type { Cell, IntervalTable } from './interval-tables.ts'
import { histologyKnown, reached, reasonIn } from './row-facts.ts'

type OfRow = (row: TruthRow) => Fact

export interface Guideline {
  readonly table: IntervalTable
  readonly adequate: OfRow
  /** Polyps that may stay, and change no interval: of a class that is told. */
  readonly harmless: OfPolyp
  /** What the table does not mean, beside what none of them does. */
  readonly outOfScope?: OfRow
}

/** Whether the last advice given agrees with the cell of the table, all being known on which a cell depends. */
export const advisedInterval = ({ table, adequate, harmless, outOfScope }: Guideline): Definition => ({
  eligible: (row) => [
    row.intent === 'complete',
    row.reason !== undefined || undefined,
    allOf(reached(row), adequate(row)) !== undefined || undefined,
  ],
  excluded: (row) =>
    anyOf(
      reasonIn('known-lesion', 'site-check')(row),
      row.knownLesion,
      row.inflammatoryBowelDisease,
      row.inflammatoryBowelDiseaseSeen,
      row.hereditarySyndrome,
      row.serratedPolyposis,
      row.earlierColorectalCancer,
      found('cancer')(row),
      outOfScope?.(row) ?? false,
      dependsOnEarlierFindings(row, table),
      opposite(reached(row)),
      opposite(adequate(row)),
      row.pathology !== 'pending' && row.polyps.some(neverExamined),
      row.pathology === 'missing' || row.pathology === 'unreadable',
      ...row.polyps.map((polyp) => allOf(opposite(cleared(polyp)), opposite(harmless(polyp)))),
      opposite(row.adviceAfterPathology),
    ),
  histology: true,
  met: (row) => {
    const allKnown =
      histologyKnown(row) &&
      row.adviceAfterPathology === true &&
      !row.polyps.some(neverExamined) &&
      row.polyps.every((polyp) => polyp.handling === 'removed' || harmless(polyp) === true)
    return allKnown ? agreement(row, table) : undefined
  },
  excepted: (row) => allOf(over(row.age, 75), row.advice === 'no-further-colonoscopy'),
})

/** Under surveillance a harmless finding is judged by what was found before. */
function dependsOnEarlierFindings(row: TruthRow, table: IntervalTable): Fact {
  const fixed = table.filter(({ whateverBefore }) => whateverBefore)
  if (fixed.length === 0 || anyOf(reasonIn('surveillance')(row), row.earlierAdenoma) !== true) return false
  return opposite(anyOf(...fixed.map(({ when }) => when?.(row))))
}

const neverExamined = ({ handling, retrieval }: TruthPolyp): boolean =>
  handling === 'left' ||
  handling === 'not-found-again' ||
  retrieval === 'not-retrieved' ||
  retrieval === 'discarded-under-protocol'

const cleared: OfPolyp = ({ handling, clearance }) =>
  allOf(
    handling === undefined ? undefined : handling === 'removed',
    clearance === undefined ? undefined : clearance === 'complete',
  )

/** Asked of every cell that may be the right one: known where the advice fits all of them, or none. */
function agreement(row: TruthRow, table: IntervalTable): Fact {
  const cells: Cell[] = []
  for (const { when, cell } of table) {
    const holds = when ? when(row) : true
    if (holds !== false) cells.push(cell)
    if (holds) break
  }
  const [first, ...others] = cells.map((cell) => fits(row, cell))
  return others.every((one) => one === first) ? first : undefined
}

/** To the nearest month. A clinic review by itself says nothing of the next colonoscopy. */
function fits(row: TruthRow, cell: Cell): Fact {
  const { advice, advisedIntervalMonths } = row
  if (advice === 'no-further-colonoscopy') return 'instead' in cell
  const months = advisedIntervalMonths === undefined ? undefined : Math.round(advisedIntervalMonths)
  if ('least' in cell) return months === undefined ? undefined : months >= cell.least && months <= cell.most
  const instead = cell.instead(row)
  // Where no colonoscopy is due at all, one that is advised is too many, whenever it is to be.
  if (advice === 'repeat-colonoscopy' && instead?.length === 0) return false
  return months === undefined || instead === undefined ? undefined : instead.includes(months)
}
