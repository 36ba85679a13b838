import { readMoment, spanOf } from '../fhir/dates.ts'
import type { ConditionDates } from './condition-dates.ts'
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

/**
 * Whether a condition was there before the examination: as it began, was recorded, or was over before it. Open where none of
 * that is so and something cannot tell.
 */
export function timingOfCondition({ onset, recorded, by, unread }: ConditionDates, { span }: Examination): Timing {
  if (onset !== undefined && onset.last < span.first) return 'before'
  if (by.some(({ last }) => last < span.first)) return 'before'
  if (unread !== undefined || (onset === undefined && recorded === undefined)) return 'open'
  return [onset, recorded].some((one) => one !== undefined && one.first < span.last) ? 'open' : 'not-before'
}
