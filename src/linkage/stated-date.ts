import { readMoment } from '../fhir/dates.ts'
import type { FieldName } from '../record/fields.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'
import { listUnread } from './told-value.ts'

/**
 * Civil date that an observation or component states as its value; one that is no day, or comes with a reason for its absence,
 * is listed as unreadable, and undefined.
 */
export function statedDate(
  field: FieldName,
  told: Told,
  examination: Examination,
  reading: Reading,
): string | undefined {
  const { valueDateTime, dataAbsentReason } = told.holder
  const date = dataAbsentReason === undefined ? readMoment(valueDateTime, examination.zone)?.date : undefined
  if (date === undefined) listUnread(field, told, examination, reading)
  return date
}
