import { dateOfEpochDay } from '../fhir/dates.ts'
import { ageBands, type Dimension } from '../measures/dimensions.ts'
import type { Attribution, Stratifier } from '../measures/measure.ts'
import type { AnswerRow } from './answer-row.ts'

/** Which stratum each row is in: computed once for all the measures that are counted over the same rows. */
export interface Places {
  /** Keys of each stratum, one per dimension; undefined where it is not recorded. */
  readonly strata: readonly (readonly (string | undefined)[])[]
  /** By row: its stratum. */
  readonly places: Int32Array
}

const keyOf: Readonly<Record<Exclude<Dimension, 'practitioner'>, (row: AnswerRow) => string | undefined>> = {
  unit: ({ unit }) => unit,
  month: ({ day }) => dateOfEpochDay(day).slice(0, 7),
  'referral-reason': ({ referralReason }) => referralReason,
  sex: ({ sex }) => sex,
  'age-band': ({ age }) => (age === undefined ? undefined : ageBands.find(([from]) => age >= from)?.[1]),
  attachment: ({ attachment }) => attachment,
}

const nobody: readonly string[] = []

/** Persons for whom an examination counts. */
export function personsOf(row: AnswerRow, attribution: Attribution): readonly string[] {
  const { operator, supervisor, supervisorInRoom } = row
  if (attribution === 'unit-only') return nobody
  if (attribution === 'operator') return operator === undefined ? nobody : [operator]
  const inRoom = supervisorInRoom === true && supervisor !== undefined ? [supervisor] : nobody
  if (attribution === 'supervisor-in-room' || operator === undefined) return inRoom
  return inRoom[0] === undefined || inRoom[0] === operator ? [operator] : [operator, inRoom[0]]
}

/**
 * Rows as they are divided by every stratifier. An examination that counts for two persons has a second place, in `seconds`,
 * for the stratifiers with a person among their dimensions; all others have it once.
 */
export class DividedRows {
  readonly rows: readonly AnswerRow[]
  readonly #divisions = new Map<string, Places>()

  constructor(rows: readonly AnswerRow[]) {
    this.rows = rows
  }

  /** @param nth which of the persons for whom an examination counts, from 0; the place of a row without one is -1, from the second on */
  by({ dimensions }: Stratifier, attribution: Attribution, nth: 0 | 1 = 0): Places {
    const name = dimensions.includes('practitioner') ? `${dimensions.join()} ${attribution} ${nth}` : dimensions.join()
    const known = this.#divisions.get(name)
    if (known) return known
    const division = divide(this.rows, (row) => {
      const person = dimensions.includes('practitioner') ? personsOf(row, attribution)[nth] : undefined
      if (nth === 1 && person === undefined) return undefined
      return dimensions.map((dimension) => (dimension === 'practitioner' ? person : keyOf[dimension](row)))
    })
    this.#divisions.set(name, division)
    return division
  }
}

function divide(
  rows: readonly AnswerRow[],
  keys: (row: AnswerRow) => readonly (string | undefined)[] | undefined,
): Places {
  const strata: (readonly (string | undefined)[])[] = []
  const known = new Map<string, number>()
  const places = new Int32Array(rows.length)
  for (const [at, row] of rows.entries()) {
    const key = keys(row)
    if (key === undefined) {
      places[at] = -1
      continue
    }
    const name = JSON.stringify(key.map((part) => part ?? null))
    let place = known.get(name)
    if (place === undefined) {
      place = strata.length
      strata.push(key)
      known.set(name, place)
    }
    places[at] = place
  }
  return { strata, places }
}
