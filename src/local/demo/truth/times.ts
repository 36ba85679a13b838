import type { TruthRow } from '../truth-row.ts'
import { allOf, type Definition, type Definitions, type Fact, opposite, over } from './definition.ts'
import { reached, reasonIn, tissueTaken } from './row-facts.ts'

type Who = (row: TruthRow) => readonly Fact[]

/** Complete, and no tissue taken. */
const negative = (row: TruthRow): Fact => allOf(reached(row), opposite(tissueTaken(row)))
const resected = ({ earlierResection }: TruthRow): Fact => earlierResection
const from45: Who = ({ age }) => [over(age, 45)]

const withdrawal = (who: Who, excluded?: Definition['excluded']): Definition => ({
  eligible: (row) => [...who(row), negative(row)],
  ...(excluded && { excluded }),
  value: ({ withdrawalMinutes }) => withdrawalMinutes,
})

/** The last minute is within; who never got there was not in time. */
const within = (minutes: number): Definition => ({
  eligible: ({ intent }) => [intent === 'complete'],
  met: (row) => allOf(reached(row), row.insertionMinutes === undefined ? undefined : row.insertionMinutes <= minutes),
})

/** Measures of times and waiting, by hand from the published definitions. */
export const timesTruth: Definitions = {
  'insertion-time-descriptive': {
    eligible: (row) => [row.intent === 'complete', reached(row)],
    value: ({ insertionMinutes }) => insertionMinutes,
  },
  'caecum-reached-within-10-minutes-descriptive': within(10),
  'caecum-reached-within-15-minutes-descriptive': within(15),

  // Mean minutes of negative examinations from age 45; resected bowels are out. US 2024, and two siblings of it.
  'withdrawal-time-us-2024': withdrawal(from45, resected),
  'withdrawal-time-resections-kept-us-2024': withdrawal(from45),
  'withdrawal-time-no-lesion-seen-us-2024': withdrawal(
    (row) => [
      ...from45(row),
      row.polyps.length === 0,
      row.knownLesionCount === undefined ? undefined : row.knownLesionCount === 0,
    ],
    resected,
  ),
  'withdrawal-time-uk-2016': withdrawal(() => []),
  'withdrawal-time-eu-2017': withdrawal(() => []),
  'withdrawal-time-uk-screening-programme': withdrawal((row) => [reasonIn('positive-screening-test')(row)]),
  'withdrawal-time-aga-2021': withdrawal((row) => [reasonIn('screening', 'surveillance')(row)]),
  'withdrawal-time-us-2015': withdrawal((row) => [reasonIn('screening')(row)], resected),

  'days-from-positive-test-descriptive': {
    eligible: (row) => [reasonIn('positive-screening-test')(row)],
    value: ({ daysFromPositiveTest }) => daysFromPositiveTest,
  },
}
