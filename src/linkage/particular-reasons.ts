import { daysBetween, readMoment } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { Reading } from './reading.ts'
import { differ, type Statement, settle, stated } from './settle.ts'
import { statedDate } from './stated-date.ts'
import type { StatedReasons } from './stated-reasons.ts'
import { listUnread, yesOrNo } from './told-value.ts'

type Particulars = Pick<Colonoscopy, 'chronicDiarrhoea' | 'afterIncompleteExamination' | 'daysFromPositiveTest'>

/** What reasons say beyond the kind of referral: which symptom, what went before, and when the test was. */
export function readParticularReasons(
  examination: Examination,
  reasons: StatedReasons,
  isLastStopped: boolean,
  reading: Reading,
): Particulars {
  // Symptoms that nobody names may be these.
  const isSymptomNamed = reasons.reasons.every(
    ({ reason }) => reason !== 'symptoms' && reason !== 'symptoms-positive-test',
  )
  return {
    chronicDiarrhoea: isStated(diarrhoea, reasons, isSymptomNamed, examination, reading),
    afterIncompleteExamination: isStated(repeat, reasons, !isLastStopped, examination, reading),
    daysFromPositiveTest: daysFromTest(reasons, examination, reading),
  }
}

interface Particular {
  readonly field: 'chronicDiarrhoea' | 'afterIncompleteExamination'
  /** Code of ours, as a reason or as a yes/no observation. */
  readonly code: string
}
const diarrhoea: Particular = { field: 'chronicDiarrhoea', code: 'chronic-diarrhoea' }
const repeat: Particular = { field: 'afterIncompleteExamination', code: 'after-incomplete-examination' }

/**
 * Whether a particular reason is stated: by code, or by an answer at the examination. Without either it is not where every
 * stated reason is known to us, and what is known allows to say no.
 */
function isStated(
  { field, code }: Particular,
  { reasons, particulars, isOpen }: StatedReasons,
  mayRuleOut: boolean,
  examination: Examination,
  reading: Reading,
): boolean | undefined {
  const { trail, zone } = examination
  let said: Statement<boolean>[] | undefined
  let isAsked = false
  for (const told of examination.observations.history) {
    if (told.code.fact !== code || !isKnownYet(told.resource, reading.asOf, zone)) continue
    isAsked = true
    said = stated(said, yesOrNo(field, told, examination, reading), told)
  }
  const coded = particulars.filter((one) => one.particular === code)
  if (coded.length > 0) {
    const denials = said?.filter(({ value }) => !value) ?? []
    if (denials.length > 0) {
      const denied = denials.map(({ told }) => told.resource)
      trail?.contradict('reason stated, and denied', ...coded.map(({ resource }) => resource), ...denied)
      return undefined
    }
    for (const { resource, rung, element } of coded) trail?.note(field, resource, rung, element)
    return true
  }
  if (isAsked) return settle(field, said, examination)
  const [first] = reasons
  if (first === undefined || isOpen || !mayRuleOut) return undefined
  trail?.note(field, first.resource, first.rung, first.element)
  return false
}

/** Days from the one date on which all tests that are named, and all statements of it, agree. */
function daysFromTest({ tests }: StatedReasons, examination: Examination, reading: Reading): number | undefined {
  const field = 'daysFromPositiveTest'
  const { span, zone, trail } = examination
  let dates: Statement<string>[] | undefined
  let isOpen = false
  for (const test of tests) {
    const [element, written] = dateOf(test)
    const date = readMoment(written, zone)?.date
    if (date === undefined) {
      isOpen = true
      trail?.cannotRead(field, test, element)
    }
    const told = { resource: test, holder: test, code: unknownMeaning, rung: 'direct reference' } as const
    dates = stated(dates, date, told, element)
  }
  for (const told of examination.observations.history) {
    if (told.code.fact !== 'positive-test-date' || !isKnownYet(told.resource, reading.asOf, zone)) continue
    const date = statedDate(field, told, examination, reading)
    isOpen ||= date === undefined
    dates = stated(dates, date, told)
  }
  if (dates === undefined || isOpen || span.first !== span.last) return undefined
  const late = dates.filter(({ value }) => value > span.first)
  for (const { told } of late) listUnread(field, told, examination, reading)
  if (late.length > 0) return undefined
  if (differ(dates)) {
    // A later test does not take the place of an earlier one: which of them led here nobody says.
    trail?.contradict('two different values of one measurement', ...dates.map(({ told }) => told.resource))
    return undefined
  }
  return daysBetween(settle(field, dates, examination) ?? span.first, span.first)
}

/** When a test was: when its sample was taken, else when its result was issued. */
function dateOf({ effectiveDateTime, effectiveInstant, effectivePeriod, issued }: Json): [string, unknown] {
  if (effectiveDateTime !== undefined) return ['Observation.effectiveDateTime', effectiveDateTime]
  if (effectiveInstant !== undefined) return ['Observation.effectiveInstant', effectiveInstant]
  if (effectivePeriod !== undefined) return ['Observation.effectivePeriod', asObject(effectivePeriod)?.start]
  return ['Observation.issued', issued]
}
