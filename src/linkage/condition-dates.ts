import { addDays, type CivilSpan, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, asText, type Json } from '../fhir/json.ts'
import { monthsOf } from '../fhir/quantity.ts'
import { onsetOf } from './conditions.ts'
import { type When, whenOf } from './told-event.ts'

/** What the elements of a condition say of when it was there. */
export interface ConditionDates {
  /** The days on which it began, by its date or the patient's age; undefined where that cannot be told. */
  readonly onset: CivilSpan | undefined
  readonly recorded: CivilSpan | undefined
  /** Days of which it had begun by the last one: of its recording, of its end, of the end of its onset. */
  readonly by: readonly CivilSpan[]
  /** Element by which it began at another time than it was recorded, without saying when. */
  readonly unread: string | undefined
}

/**
 * Reads when a condition began, was recorded and ended. An age where the birth date is known is a year of the calendar; in
 * words or as a range it says nothing that can be read.
 *
 * @param birthDate as written in the patient's record
 */
export function conditionDates(condition: Json, birthDate: unknown, zone: string): ConditionDates {
  const { onsetAge, onsetPeriod, recordedDate, abatementDateTime, abatementPeriod, abatementAge } = condition
  const onset = spanIn(onsetOf(condition), zone) ?? yearOfAge(onsetAge, birthDate)
  const recorded = spanIn(recordedDate, zone)
  const abatement = asObject(abatementPeriod)
  const ended =
    spanIn(abatementDateTime ?? abatement?.start ?? abatement?.end, zone) ?? yearOfAge(abatementAge, birthDate)
  const by = [recorded, ended, spanIn(asObject(onsetPeriod)?.end, zone)].filter((one) => one !== undefined)
  return { onset, recorded, by, unread: onset ? undefined : unreadOnset(condition, recorded, ended) }
}

/** Where nothing says when it began, an end before its recording says that the recording came later. */
function unreadOnset(
  condition: Json,
  recorded: CivilSpan | undefined,
  ended: CivilSpan | undefined,
): string | undefined {
  for (const name in condition)
    if (name.startsWith('onset') && condition[name] !== undefined) return `Condition.${name}`
  if (recorded === undefined && condition.recordedDate !== undefined) return 'Condition.recordedDate'
  const endedEarlier = ended !== undefined && (recorded === undefined || ended.first < recorded.first)
  return endedEarlier ? 'Condition.abatement[x]' : undefined
}

/**
 * The days on which a condition may have begun: no later than it was recorded or ended. Where nothing says when it began, the
 * recording stands for it.
 *
 * @param isNamed whether an examination or an event names it: then the recording says no more than that it had begun
 * @returns undefined where nothing dates it
 */
export function beganIn(condition: Json, birthDate: unknown, zone: string, isNamed = false): When | undefined {
  const written = onsetOf(condition)
  if (readMoment(written, zone) !== undefined) return whenOf([written, condition.recordedDate], zone)
  const { onset, by, unread } = conditionDates(condition, birthDate, zone)
  if (onset === undefined && unread === undefined && !isNamed) return whenOf([condition.recordedDate], zone)
  return noLaterThan(onset === undefined ? by : [onset, ...by], onset?.first)
}

/** A day before everything that records tell of. */
const atAnyTime = '1000-01-01'

/** From a day, or from any time before, until the first that is over of some spans; undefined without any. */
export function noLaterThan(spans: readonly CivilSpan[], first = atAnyTime): CivilSpan | undefined {
  const last = spans.map((span) => span.last).sort()[0]
  if (last === undefined) return undefined
  // What contradicts itself had begun by the last day it may have.
  return first < last ? { first, last } : { first: last, last }
}

function spanIn(written: unknown, zone: string): CivilSpan | undefined {
  const moment = written === undefined ? undefined : readMoment(written, zone)
  return moment && spanOf(moment)
}

const oldest = 150

/** The days of that age, which are those of a year of life; more where the birth date is only a month or a year. */
function yearOfAge(age: unknown, birthDate: unknown): CivilSpan | undefined {
  if (age === undefined) return undefined
  const born = asText(birthDate)
  const months = monthsOf({ valueQuantity: age })
  if (born === undefined || born.length > 10 || typeof months !== 'number' || months > oldest * 12) return undefined
  const birth = spanIn(born, 'UTC')
  if (birth === undefined) return undefined
  const years = Math.floor(months / 12)
  return { first: yearsAfter(birth.first, years), last: addDays(yearsAfter(birth.last, years + 1), -1) }
}

/** 29 February is 1 March in the years that have none. */
const yearsAfter = (date: string, years: number): string =>
  addDays(`${Number(date.slice(0, 4)) + years}${date.slice(4)}`, 0)
