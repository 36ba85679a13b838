import { epochDay, readMoment } from '../fhir/dates.ts'
import { asText, type Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { fields } from '../record/fields.ts'
import { isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import type { Reading } from './reading.ts'

/** What the facts rest on that need no reader of their own. */
export function noteOwn(
  examination: Examination,
  facts: {
    readonly age: number | undefined
    readonly sex: Colonoscopy['sex']
    readonly patient: Json | undefined
  },
): void {
  const { trail, lead } = examination
  if (trail === undefined) return
  const { age, sex, patient } = facts
  const performed = lead.performedPeriod === undefined ? 'Procedure.performedDateTime' : 'Procedure.performedPeriod'
  trail.note('procedure', lead, 'own element', 'Procedure.id')
  trail.note('examinationDate', lead, 'own element', performed)
  if (monthOf(examination) !== undefined) trail.note('examinationMonth', lead, 'own element', performed)
  if (examination.start !== undefined) trail.note('startTime', lead, 'own element', performed)
  if (age !== undefined) trail.note('age', patient, 'direct reference', 'Patient.birthDate')
  else if (patient?.birthDate !== undefined) trail.cannotRead('age', patient, 'Patient.birthDate')
  if (sex !== undefined) trail.note('sex', patient, 'direct reference', 'Patient.gender')
  else if (patient?.gender !== undefined) trail.cannotRead('sex', patient, 'Patient.gender')
}

/** Month of the calendar on which all days lie that the examination may have begun on. */
export const monthOf = ({ span }: Examination): string | undefined => {
  const month = span.first.slice(0, 7)
  return month === span.last.slice(0, 7) ? month : undefined
}

export const sexOf = (patient: Json | undefined): Colonoscopy['sex'] => {
  const sex = asText(patient?.gender)
  return isWord(sex, fields.sex.values) ? sex : undefined
}

export function settingOf(examination: Examination, { codes, survey }: Reading): Colonoscopy['setting'] {
  const { stays, encounters, trail, patient, lead } = examination
  if (stays.length < encounters.length) survey?.deadEnd('Procedure.encounter', lead)
  for (const encounter of stays) {
    const word = codes.wordOfCoding(encounter.class, 'setting')
    if (isWord(word, fields.setting.values)) {
      trail?.note('setting', encounter, 'direct reference', 'Encounter.class')
      return word
    }
    survey?.missed('Encounter.class', encounter.class, patient)
  }
  return undefined
}

/** Whole years on the date; undefined when the birth date is too coarse to decide, or the examination's own is. */
export function ageOn({ span, date }: Examination, patient: Json | undefined): number | undefined {
  const born = asText(patient?.birthDate)
  // A birth date has no time of day, and is a day, a month or a year of the calendar.
  if (born === undefined || born.length > 10 || readMoment(born, 'UTC') === undefined) return undefined
  const years = (birth: string, on: string) => {
    const age = Number(on.slice(0, 4)) - Number(birth.slice(0, 4))
    return on.slice(5) < birth.slice(5) ? age - 1 : age
  }
  const earliest = born.length === 10 ? born : born.length === 7 ? `${born}-01` : `${born}-01-01`
  const latest = born.length === 10 ? born : born.length === 7 ? `${born}-31` : `${born}-12-31`
  const age = years(earliest, span.last)
  return age === years(latest, span.first) && age >= 0 && epochDay(date) >= epochDay(earliest) ? age : undefined
}
