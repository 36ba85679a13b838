import type { MeasureDefinition } from '../measures/measure.ts'
import type { ApartReason, GroupResult } from '../tally/result.ts'
import { counted, type Row } from './rows.ts'
import { number } from './wording.ts'

export interface Column {
  readonly section: 'In the rate' | 'Worth a look' | 'Left out by the measure' | 'Not decided'
  readonly heading: string
  readonly cell: (group: GroupResult) => string
}

const apart = ({ apart }: GroupResult, ...reasons: readonly ApartReason[]): number =>
  reasons.reduce((total, reason) => total + (apart[reason] ?? 0), 0)

/** Columns that stand only where at least one row has a number in them, with the number they hold. */
const optional: readonly (Omit<Column, 'cell'> & { readonly count: (group: GroupResult) => number })[] = [
  {
    section: 'Worth a look',
    heading: 'Exclusion not recorded',
    count: (g) => apart(g, 'exclusion-not-recorded'),
  },
  { section: 'Left out by the measure', heading: 'Excluded', count: ({ settled }) => settled.excluded },
  { section: 'Left out by the measure', heading: 'Excepted', count: ({ settled }) => settled.excepted },
  { section: 'Left out by the measure', heading: 'Outside it', count: (g) => apart(g, 'out') },
  { section: 'Not decided', heading: 'Outcome not recorded', count: (g) => apart(g, 'not-recorded') },
  { section: 'Not decided', heading: 'Eligibility not recorded', count: (g) => apart(g, 'eligibility-not-recorded') },
  { section: 'Not decided', heading: 'Pending', count: (g) => apart(g, 'pending') },
  { section: 'Not decided', heading: 'Of these met already', count: (g) => apart(g, 'pending-already-met') },
  {
    section: 'Not decided',
    heading: 'After last settled day',
    count: (g) => apart(g, 'later-met', 'later-not-met', 'later-excluded', 'later-excepted', 'later-not-recorded'),
  },
  { section: 'Not decided', heading: 'Not available', count: (g) => apart(g, 'not-available') },
]

/** What is counted beside has a letter in the table, and its words in the list under it. */
export const besideLetter = (place: number): string => String.fromCharCode(65 + place)

/** The columns after the rate: what it is made of, and every reason for which some row has an examination apart. */
export function columnsFor(rows: readonly Row[], measure: MeasureDefinition): Column[] {
  const { scoring, eventWindowDays } = measure
  const inRate: Column[] =
    scoring === 'proportion'
      ? [
          {
            section: 'In the rate',
            heading: eventWindowDays === undefined ? 'Met' : 'With event',
            cell: ({ settled }) => number.format(settled.met),
          },
          { section: 'In the rate', heading: 'Counted', cell: (group) => number.format(counted(group)) },
        ]
      : scoring === 'cohort'
        ? [{ section: 'In the rate', heading: 'Counted', cell: (group) => number.format(counted(group)) }]
        : [
            {
              section: 'In the rate',
              heading: 'Sum',
              cell: ({ settled }) => (settled.valueSum === undefined ? '–' : number.format(settled.valueSum)),
            },
            { section: 'In the rate', heading: 'Counted', cell: (group) => number.format(counted(group)) },
          ]
  const besides = measure.besides.map((_, place) => ({
    section: 'Worth a look' as const,
    heading: `Beside ${besideLetter(place)}`,
    count: (group: GroupResult) => group.besides[place] ?? 0,
  }))
  const used = [...besides, ...optional].filter(({ count }) => rows.some(({ group }) => count(group) > 0))
  return [
    ...inRate,
    ...used.map(
      ({ section, heading, count }): Column => ({
        section,
        heading,
        cell: (group) => number.format(count(group)),
      }),
    ),
  ]
}
