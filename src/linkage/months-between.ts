/** Mean length of a month of the Gregorian calendar in days: 400 years have 146,097 days and 4,800 months. */
const daysOfMonth = 146_097 / 4_800

/** Months from one civil date to another, to one decimal: those of the calendar, and the days that are left over. */
export function monthsBetween(from: string, to: string): number {
  const part = (text: string, start: number, end: number) => Number(text.slice(start, end))
  const months = (part(to, 0, 4) - part(from, 0, 4)) * 12 + part(to, 5, 7) - part(from, 5, 7)
  const days = part(to, 8, 10) - part(from, 8, 10)
  return Math.round((months + days / daysOfMonth) * 10) / 10
}
