import { holdsValue } from '../fhir/holds-value.ts'
import { wholeNumberOf } from '../fhir/quantity.ts'
import type { FieldName } from '../record/fields.ts'
import type { BowelPart } from './bowel-part.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, stated } from './settle.ts'
import { listUnread } from './told-value.ts'

/** Field of the record that holds the number of biopsies of each part. */
export const numberFields = {
  right: 'biopsiesRight',
  left: 'biopsiesLeft',
  rectum: 'biopsiesRectum',
} as const satisfies Readonly<Record<BowelPart, FieldName>>

const partOfFact: Readonly<Record<string, BowelPart>> = {
  'biopsies-right': 'right',
  'biopsies-left': 'left',
  'biopsies-rectum': 'rectum',
}

/** More biopsies of one part than these are a slip, or mean something else. */
export const mostBiopsies = 99

/** What observations say of the biopsies of one part: numbers, or something that nobody can read. */
export interface StatedBiopsies {
  statements: Statement<number>[] | undefined
}

const nothingStated: ReadonlyMap<BowelPart, StatedBiopsies> = new Map()

/** Numbers of biopsies that observations state, by part of the bowel; a part of which none speaks has no entry. */
export function statedBiopsies(examination: Examination, reading: Reading): ReadonlyMap<BowelPart, StatedBiopsies> {
  if (examination.observations.biopsies.length === 0) return nothingStated
  const byPart = new Map<BowelPart, StatedBiopsies>()
  for (const told of examination.observations.biopsies) {
    const part = partOfFact[told.code.fact ?? '']
    if (part === undefined || !isKnownYet(told.resource, reading.asOf, examination.zone)) continue
    const known = byPart.get(part) ?? { statements: undefined }
    byPart.set(part, known)
    const number = numberIn(told)
    if (number === undefined && holdsValue(told.holder)) listUnread(numberFields[part], told, examination, reading)
    known.statements = stated(known.statements, number, told)
  }
  return byPart
}

/** What states that at least one biopsy of the mucosa was taken. */
export const biopsyStated = ({ observations, zone }: Examination, { asOf }: Reading): Told | undefined =>
  observations.biopsies.find((told) => isKnownYet(told.resource, asOf, zone) && (numberIn(told) ?? 0) > 0)

function numberIn({ holder }: Told): number | undefined {
  const number = wholeNumberOf(holder)
  return typeof number === 'number' && number >= 0 && number <= mostBiopsies ? number : undefined
}
