import { addDays, isCalendarDate } from '../fhir/dates.ts'

/** Whether the text is a month of the calendar, `YYYY-MM`. */
export const isMonth = (text: string): boolean => isCalendarDate(`${text}-01`)

export const firstDay = (month: string): string => `${month}-01`

/** Last day of a month: the day before the first of the next. */
export const lastDay = (month: string): string => addDays(firstDay(monthsLater(month, 1)), -1)

/** Months since year 0. */
const ordinal = (month: string): number => Number(month.slice(0, 4)) * 12 + Number(month.slice(5, 7)) - 1

/** The month so many months later (or earlier). */
export function monthsLater(month: string, months: number): string {
  const total = ordinal(month) + months
  return `${String(Math.floor(total / 12)).padStart(4, '0')}-${String((total % 12) + 1).padStart(2, '0')}`
}

/** How many calendar months a period touches, both ends included. */
export const monthsIn = (from: string, to: string): number => ordinal(to) - ordinal(from) + 1
