import { addDays } from './fhir/dates.ts'

/** Calendar months of a period, cut to it. */
export function monthsOf({
  start,
  end,
}: {
  readonly start: string
  readonly end: string
}): { start: string; end: string }[] {
  const months: { start: string; end: string }[] = []
  for (let from = start; from <= end; ) {
    const next = addDays(`${from.slice(0, 7)}-28`, 4).slice(0, 7)
    const last = addDays(`${next}-01`, -1)
    months.push({ start: from, end: last < end ? last : end })
    from = `${next}-01`
  }
  return months
}
