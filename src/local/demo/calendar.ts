/**
 * Days as whole numbers (days since 1970-01-01) and moments as a civil day in London with minutes after midnight.
 * Written out by hand, so that the demo depends on nobody's time zone tables.
 */

/** First and last day of the demo's eighteen months. */
export const firstDay = dayOf('2025-01-01')
export const lastDay = dayOf('2026-06-30')
/** The day as of which the demo is read. */
export const asOfDay = dayOf('2026-08-15')

/** Days between which London keeps summer time; it changes at 01:00 UTC on the first and on the last day. */
const summers: readonly (readonly [string, string])[] = [
  ['2025-03-30', '2025-10-26'],
  ['2026-03-29', '2026-10-25'],
]
const summerDays = summers.map(([from, to]) => [dayOf(from), dayOf(to)] as const)

/** @param date civil date as YYYY-MM-DD */
export function dayOf(date: string): number {
  return Date.parse(`${date}T00:00:00Z`) / 86_400_000
}

/** @returns YYYY-MM-DD */
export function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10)
}

/** @returns 0 for Sunday to 6 for Saturday */
export function weekdayOf(day: number): number {
  return (day + 4) % 7
}

export const isWorkday = (day: number): boolean => weekdayOf(day) % 6 !== 0

/** No examination is put on the two days of a year on which the clock changes. */
export const clockChanges = (day: number): boolean => summerDays.some(([from, to]) => day === from || day === to)

/** A moment with London's own offset, as `2026-06-30T09:15:00+01:00`. */
export function londonTime(day: number, minute: number): string {
  return `${clockTime(day, minute)}${isSummer(day) ? '+01:00' : '+00:00'}`
}

/** The same moment in UTC, as `2026-06-30T08:15:00Z`: it may lie on the day before. */
export function utcTime(day: number, minute: number): string {
  return `${clockTime(day, minute - (isSummer(day) ? 60 : 0))}Z`
}

function clockTime(day: number, minute: number): string {
  return new Date((day * 1440 + minute) * 60_000).toISOString().slice(0, 19)
}

function isSummer(day: number): boolean {
  return summerDays.some(([from, to]) => day > from && day < to)
}
