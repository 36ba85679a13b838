import { type CivilSpan, readMoment, spanOf } from '../fhir/dates.ts'
import { holdsValue } from '../fhir/holds-value.ts'
import { asObject, type Json } from '../fhir/json.ts'
import { monthsOf } from '../fhir/quantity.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { writtenStart } from './candidates.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { isKnownYet } from './known.ts'
import { monthsBetween } from './months-between.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { statedDate } from './stated-date.ts'
import { listUnread, yesOrNo } from './told-value.ts'

type LastColonoscopy = Pick<Colonoscopy, 'monthsSinceLastColonoscopy' | 'lastExaminationInadequate'>

/** What is known of the last colonoscopy before an examination. */
export interface KnownLast {
  readonly facts: LastColonoscopy
  /** The last one on record was stopped. */
  readonly wasStopped: boolean
}

/** The last colonoscopy on record. */
interface Recorded {
  /** Civil date, to the day. */
  readonly date: string
  /** Procedures of that date. */
  readonly procedures: readonly Json[]
}

/** Difference in months within which a statement and a date mean the same examination. */
const sameExamination = 1

/**
 * When the last colonoscopy before this one was, and whether it was incomplete or badly prepared: as stated at the examination,
 * and as other colonoscopies of the patient say. The last of all is meant: of a statement and a date on record the later. One on
 * record that may be later, with a date too coarse or a status that leaves open whether it was done, leaves the fact not
 * recorded; so does a statement that cannot be read.
 *
 * A completed one may have been badly prepared all the same: its status alone never says no.
 *
 * @param colonoscopies Procedures with a colonoscopy's code, of the same patient
 */
export function readLastColonoscopy(
  examination: Examination,
  colonoscopies: readonly Json[],
  reading: Reading,
): KnownLast {
  const told = examination.observations.history.filter(({ resource }) =>
    isKnownYet(resource, reading.asOf, examination.zone),
  )
  if (told.length === 0 && colonoscopies.length === examination.all.length) return nothingKnown
  const recorded = lastOnRecord(colonoscopies, examination, reading)
  const said = statedMonths(told, examination, reading)
  if (recorded !== undefined && recorded !== 'open') sawFeed(examination, 'history')
  if (said !== undefined) sawFeed(examination, 'history')
  const isLater =
    typeof said === 'number' &&
    typeof recorded === 'object' &&
    monthsBetween(recorded.date, examination.date) > said + sameExamination
  const last = recorded === 'open' || isLater ? undefined : recorded
  return {
    facts: {
      monthsSinceLastColonoscopy: monthsSince(said, recorded, examination),
      lastExaminationInadequate: wasInadequate(told, last, examination, reading),
    },
    wasStopped: last?.procedures.every(({ status }) => status === 'stopped') === true,
  }
}

const nothingKnown: KnownLast = {
  facts: { monthsSinceLastColonoscopy: undefined, lastExaminationInadequate: undefined },
  wasStopped: false,
}

const neverDone: ReadonlySet<unknown> = new Set(['entered-in-error', 'not-done', 'preparation'])
const done: ReadonlySet<unknown> = new Set(['completed', 'stopped'])

/** 'open' where nobody can tell which was the last. */
function lastOnRecord(
  colonoscopies: readonly Json[],
  { all, span, zone, trail }: Examination,
  { codes }: Reading,
): Recorded | 'open' | undefined {
  const earlier: { readonly procedure: Json; readonly when: CivilSpan }[] = []
  let isOpen = false
  for (const procedure of colonoscopies) {
    if (all.includes(procedure) || neverDone.has(procedure.status)) continue
    if (codes.fact(procedure.statusReason) === 'not-inserted') continue
    const moment = readMoment(writtenStart(procedure) ?? asObject(procedure.performedPeriod)?.end, zone)
    const when = moment && spanOf(moment)
    if (when !== undefined && when.first >= span.first) continue
    if (when === undefined || when.last >= span.first) {
      isOpen = true
      trail?.doubt('colonoscopy that does not say whether it was done before the examination', procedure)
    } else earlier.push({ procedure, when })
  }
  if (isOpen) return 'open'
  const last = earlier.reduce<string | undefined>(
    (latest, { procedure, when }) =>
      done.has(procedure.status) && (latest === undefined || when.last > latest) ? when.last : latest,
    undefined,
  )
  const contenders = earlier.filter(({ when }) => last === undefined || when.last >= last)
  if (contenders.length === 0) return undefined
  const isCertain = ({ procedure, when }: (typeof earlier)[number]) =>
    when.first === when.last && done.has(procedure.status)
  if (last !== undefined && span.first === span.last && contenders.every(isCertain))
    return { date: last, procedures: contenders.map(({ procedure }) => procedure) }
  for (const one of contenders)
    if (!isCertain(one))
      trail?.doubt('colonoscopy that does not say whether it was done before the examination', one.procedure)
  return 'open'
}

/** Months as stated: a time, or the date of the last one. */
function statedMonths(
  told: readonly Told[],
  examination: Examination,
  reading: Reading,
): number | 'unreadable' | undefined {
  const field = 'monthsSinceLastColonoscopy'
  let said: Statement<number>[] | undefined
  let isUnread = false
  for (const one of told) {
    if (one.code.fact !== 'last-colonoscopy' || !holdsValue(one.holder)) continue
    const months = monthsIn(one, examination, reading)
    if (months === undefined) isUnread = true
    said = stated(said, months, one)
  }
  if (isUnread) return 'unreadable'
  return said && (settle(field, said, examination) ?? 'unreadable')
}

function monthsIn(told: Told, examination: Examination, reading: Reading): number | undefined {
  const field = 'monthsSinceLastColonoscopy'
  const { span } = examination
  if (told.holder.valueDateTime !== undefined) {
    const date = statedDate(field, told, examination, reading)
    if (date !== undefined && date < span.first && span.first === span.last) return monthsBetween(date, span.first)
    if (date !== undefined) listUnread(field, told, examination, reading)
    return undefined
  }
  const months = monthsOf(told.holder)
  if (typeof months === 'number' && months > 0) return months
  listUnread(field, told, examination, reading)
  return undefined
}

/** The last of all: the fewest months. */
function monthsSince(
  said: number | 'unreadable' | undefined,
  recorded: Recorded | 'open' | undefined,
  { date, trail }: Examination,
): number | undefined {
  if (said === 'unreadable' || recorded === 'open') return undefined
  if (recorded === undefined) return said
  const months = monthsBetween(recorded.date, date)
  if (said !== undefined && said <= months) return said
  if (said !== undefined && said - months > sameExamination)
    trail?.contradict('last colonoscopy stated, but a later one on record', ...recorded.procedures)
  for (const procedure of recorded.procedures)
    trail?.note('monthsSinceLastColonoscopy', procedure, 'record of the same patient', startElement(procedure))
  return months
}

const startElement = ({ performedPeriod }: Json): string =>
  performedPeriod === undefined ? 'Procedure.performedDateTime' : 'Procedure.performedPeriod'

function wasInadequate(
  told: readonly Told[],
  last: Recorded | undefined,
  examination: Examination,
  reading: Reading,
): boolean | undefined {
  const field = 'lastExaminationInadequate'
  let said: Statement<boolean>[] | undefined
  for (const one of told)
    if (one.code.fact === 'last-examination-inadequate')
      said = stated(said, yesOrNo(field, one, examination, reading), one)
  if (said !== undefined) sawFeed(examination, 'history')
  const [first, ...more] = last?.procedures ?? []
  if (first === undefined || ![first, ...more].every(({ status }) => status === 'stopped'))
    return settle(field, said, examination)
  const denial = said?.find(({ value }) => !value)
  if (denial !== undefined) {
    examination.trail?.contradict('history stated both ways', denial.told.resource, first)
    return undefined
  }
  examination.trail?.note(field, first, 'record of the same patient', 'Procedure.status')
  return true
}
