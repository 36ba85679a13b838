import type { TruthRow } from '../truth-row.ts'
import { allOf, type Definition, type Definitions, type Fact, opposite } from './definition.ts'
import { everySegmentClean, preparedWell, reasonIn, stoppedForStool } from './row-facts.ts'

type Grade = NonNullable<TruthRow['preparationGrade']>

/** What each of five grades says where nothing else is written. */
type Line = Readonly<Record<Grade, Fact>>
export const goodOrBetter: Line = { excellent: true, good: true, fair: false, poor: false }
/** US guidelines call fair adequate. */
export const usLine: Line = { ...goodOrBetter, fair: true }
/** Fair alone does not tell whether a repeat or another test is needed. */
const ukLine: Line = { excellent: true, good: true, fair: undefined, poor: false }

/** Boston scores decide, else a level in words, else a grade; stopped for stool is not adequate. */
export const adequate =
  (line: Line) =>
  (row: TruthRow): Fact => {
    const { preparation, preparationGrade: grade } = row
    const written =
      preparation === undefined
        ? grade && line[grade]
        : preparation.kind === 'level'
          ? preparation.adequate
          : everySegmentClean(row)
    return allOf(written, opposite(stoppedForStool(row)))
  }

const outpatient = ({ setting }: TruthRow): Fact => (setting === undefined ? undefined : setting === 'outpatient')
const screenedOrWatched = reasonIn('screening', 'surveillance')
const rate = (line: Line, who: (row: TruthRow) => readonly Fact[]): Definition => ({
  eligible: who,
  met: adequate(line),
})

/** Measures of bowel preparation, by hand from the published definitions. */
export const preparationTruth: Definitions = {
  // Outpatients; each Boston segment at least 2, or said to be adequate; grades are not read. US 2024.
  'adequate-bowel-preparation-rate-us-2024': { eligible: (row) => [outpatient(row)], met: preparedWell },
  'adequate-bowel-preparation-rate-all-settings-us-2024': rate(usLine, () => []),
  'adequate-bowel-preparation-rate-us-2015': rate(usLine, (row) => [outpatient(row)]),
  'adequate-bowel-preparation-rate-us-task-force-2025': rate(usLine, (row) => [outpatient(row)]),
  // A figure of the unit. Clinical practice update 2021.
  'adequate-bowel-preparation-rate-aga-2021': {
    ...rate(usLine, (row) => [screenedOrWatched(row)]),
    persons: () => [],
  },
  // Emergencies are left out. EU 2017.
  'adequate-bowel-preparation-rate-eu-2017': {
    ...rate(goodOrBetter, () => []),
    excluded: ({ setting }) => (setting === undefined ? undefined : setting === 'emergency'),
  },
  'adequate-bowel-preparation-rate-uk-2016': rate(ukLine, () => []),
  'adequate-bowel-preparation-rate-outpatients-uk-2016': rate(ukLine, (row) => [outpatient(row)]),
  'adequate-bowel-preparation-rate-uk-screening-programme': rate(ukLine, (row) => [
    reasonIn('positive-screening-test')(row),
  ]),
  // Inadequate by the line of 2015; twelve months are within a year. US 2015.
  'repeat-within-a-year-after-inadequate-preparation-us-2015': {
    eligible: (row) => [screenedOrWatched(row), opposite(adequate(usLine)(row))],
    met: ({ advice, advisedIntervalMonths: months }) =>
      allOf(
        advice === undefined ? undefined : advice === 'repeat-colonoscopy',
        months === undefined ? undefined : months <= 12,
      ),
  },
}
