import { readMoment, spanOf } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Examination } from './examinations.ts'

/** When something came, told by its dates: before the first day the examination may have been, on it or later, or it is open. */
export type Timing = 'before' | 'not-before' | 'open'

/**
 * Whether any of two dates lies before the examination. Open when neither does and one cannot tell: a month or year that reaches
 * over the day, an examination known to the month only, or no date that can be read at all.
 */
export function timingOf(one: unknown, other: unknown, { span, zone }: Examination): Timing {
  let isDated = false
  let isOpen = false
  for (const written of [one, other]) {
    const moment = written === undefined ? undefined : readMoment(written, zone)
    if (moment === undefined) continue
    const { first, last } = spanOf(moment)
    if (last < span.first) return 'before'
    isDated = true
    if (first < span.last) isOpen = true
  }
  return isDated && !isOpen ? 'not-before' : 'open'
}

/** Whether a date is the very day of the examination, where that is known to the day. */
export function isOnTheDay(written: unknown, { span, zone }: Examination): boolean {
  const moment = written === undefined ? undefined : readMoment(written, zone)
  return moment?.date !== undefined && moment.date === span.first && moment.date === span.last
}

/** Which elements of a condition are dates that were written and cannot be read as one. */
export function unreadableDate(condition: Json, zone: string): string | undefined {
  for (const element of ['onsetDateTime', 'recordedDate', 'onsetString'])
    if (typeof condition[element] === 'string' && readMoment(condition[element], zone) === undefined)
      return `Condition.${element}`
  return undefined
}
