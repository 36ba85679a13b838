import type { MeasureDefinition } from '../measures/measure.ts'
import { figure, figures } from '../report/figure.ts'
import type { AbsentReason, GroupResult } from '../tally/result.ts'

/** Keeps a number and what follows it on one line. */
export const unbroken = (text: string): string => text.replaceAll(' ', '\u00a0')

export const number = new Intl.NumberFormat('en-GB')

export const rate = (measure: MeasureDefinition, value: number): string => unbroken(figure(measure, value))
export const range = (measure: MeasureDefinition, ends: { lower: number; upper: number }): string =>
  unbroken(figures(measure, ends))

/** Why there is no rate, in the few words that fit into a chart. */
export const absentInBrief = {
  'not-available': 'the source does not send what it needs',
  'nothing-settled': 'nothing settled yet',
  'too-little-settled': 'too little settled yet',
  'nothing-recorded': 'outcome not recorded in any',
  'nobody-eligible': 'no examination in the denominator',
  'no-score': 'a count, not a rate',
} as const satisfies Record<AbsentReason, string>

export const whyAbsent = ({ absentBecause }: GroupResult): string =>
  absentBecause ? absentInBrief[absentBecause] : 'reason not known'

/** `20 of 64` for a proportion, otherwise the number of examinations. */
export function countsInBrief({ scoring }: MeasureDefinition, { settled }: GroupResult): string {
  const all = settled.met + settled.notMet
  return scoring === 'proportion'
    ? `${number.format(settled.met)} of ${number.format(all)}`
    : `${number.format(all)} examinations`
}

const dayAndMonth = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', timeZone: 'UTC' })

/** `30 June 2026` for a civil date. */
export const dateInWords = (date: string): string =>
  `${dayAndMonth.format(new Date(`${date.slice(0, 10)}T00:00:00Z`))} ${Number(date.slice(0, 4))}`

/** `15 August 2026, 23:59 UTC` for an instant, in the offset in which it is written. */
export function instantInWords(instant: string): string {
  const [, time, offset] = /T(\d{2}:\d{2})[^Z+-]*(Z|[+-]\d{2}:\d{2})$/.exec(instant) ?? []
  if (time === undefined || offset === undefined) return dateInWords(instant)
  return `${dateInWords(instant)}, ${time} ${offset === 'Z' ? 'UTC' : `UTC${offset}`}`
}

/** `1 January to 30 June 2026`. */
export function periodInWords({ start, end }: { readonly start: string; readonly end: string }): string {
  const first = start.slice(0, 4) === end.slice(0, 4) ? dateInWords(start).replace(/ \d+$/, '') : dateInWords(start)
  return `${first} to ${dateInWords(end)}`
}
