import { holdsValue } from '../fhir/holds-value.ts'
import type { Json } from '../fhir/json.ts'
import type { FieldName } from '../record/fields.ts'
import { isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import { type Reading, type Told, valueElementOf } from './reading.ts'

/**
 * Word of the record that a coded value means, by a concept map or as a code of ours. What cannot be read is listed, and
 * undefined.
 */
export function wordOf<Word extends string>(
  field: FieldName,
  told: Told,
  words: readonly Word[],
  examination: Examination,
  reading: Reading,
  map?: string,
): Word | undefined {
  const { holder } = told
  const concept = holder.valueCodeableConcept
  const { codes } = reading
  const word = map === undefined ? codes.fact(concept) : codes.word(concept, map)
  if (holder.dataAbsentReason === undefined && isWord(word, words)) return word
  if (holdsValue(holder)) listUnread(field, told, examination, reading)
  return undefined
}

/** Answer to a yes/no question: a boolean, or a code of ours for yes and no. What cannot be read is listed, and undefined. */
export function yesOrNo(field: FieldName, told: Told, examination: Examination, reading: Reading): boolean | undefined {
  const { valueBoolean, valueCodeableConcept, dataAbsentReason } = told.holder
  if (dataAbsentReason === undefined) {
    if (typeof valueBoolean === 'boolean') return valueBoolean
    const answer = reading.codes.fact(valueCodeableConcept)
    if (answer === 'yes') return true
    if (answer === 'no') return false
  }
  if (holdsValue(told.holder)) listUnread(field, told, examination, reading)
  return undefined
}

/** Lists a value that stands where a fact is expected and means nothing we know. */
export function listUnread(field: FieldName, told: Told, { trail, patient }: Examination, { survey }: Reading): void {
  const { resource, holder } = told
  trail?.cannotRead(field, resource, valueElementOf(told))
  if (survey === undefined) return
  const where = `${valueElementOf(told)} (${told.code.fact ?? field})`
  survey.missed(where, holder.valueCodeableConcept, patient)
  survey.missedText(where, holder.valueString, patient)
}

/** A component of an observation, as if it stood alone. */
export const componentOf = ({ resource, rung }: Told, holder: Json, code: Told['code']): Told => ({
  resource,
  holder,
  code,
  rung,
})
