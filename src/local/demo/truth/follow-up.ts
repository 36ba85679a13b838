import type { TruthPolyp, TruthRow } from '../truth-row.ts'
import { advisedInterval } from './advised-interval.ts'
import type { OfPolyp } from './confirmed-lesions.ts'
import { allOf, anyOf, type Definitions, type Fact, opposite, over } from './definition.ts'
import { eu2020, numberOf, smallInRectum, uk2020, us2020 } from './interval-tables.ts'
import { reaches } from './polyp-size.ts'
import { adequate, goodOrBetter, usLine } from './preparation.ts'
import { reached, reasonIn, tissueTaken } from './row-facts.ts'

/** No lesion at all, or a hyperplastic polyp that is so besides. */
const harmlessIf =
  (is: OfPolyp): OfPolyp =>
  (polyp: TruthPolyp) => {
    if (polyp.histology === undefined) return undefined
    return polyp.histology === 'other' || (polyp.histology === 'hyperplastic' ? is(polyp) : false)
  }
const below10mm: OfPolyp = (polyp) => opposite(reaches(polyp, 10))

/** Family history asks for judgement, so many serrated polyps have no row, and nothing in the young is no screening. */
const notMeantInUs = (row: TruthRow): Fact => {
  const [adenomas, traditional, sessile, hyperplastic] = (
    ['conventional-adenoma', 'traditional-serrated-adenoma', 'sessile-serrated-lesion', 'hyperplastic'] as const
  ).map((nature) => numberOf(nature, row))
  const all = [adenomas, traditional, sessile, hyperplastic]
  const none = all.includes(undefined) ? undefined : all.every((number) => number === 0)
  return anyOf(
    row.familyHistoryOfColorectalCancer,
    sessile === undefined || hyperplastic === undefined ? undefined : sessile > 10 || hyperplastic > 20,
    allOf(opposite(over(row.age, 45)), none),
  )
}

/** An examination that reached the end was not given up, whatever it is called. */
const completed = (row: TruthRow): Fact => !row.stopped || reached(row)
const advisedFrom = ({ advice, advisedIntervalMonths: months }: TruthRow, least: number): Fact =>
  allOf(
    advice === undefined ? undefined : advice !== 'no-further-colonoscopy',
    months === undefined ? undefined : months >= least,
  )

const highRisk = (row: TruthRow): Fact =>
  anyOf(row.inflammatoryBowelDisease, row.hereditarySyndrome, row.serratedPolyposis, row.earlierColorectalCancer)

/** From the 184th day to the end of the third year. */
const later = ({ laterColorectalCancer, laterColorectalCancerDay: day }: TruthRow): Fact =>
  allOf(laterColorectalCancer, day === undefined ? undefined : day >= 184 && day <= 1096)

/** Measures of follow-up, by hand from the published definitions. */
export const followUpTruth: Definitions = {
  'advised-interval-agreement-us-2020': advisedInterval({
    table: us2020,
    adequate: adequate(usLine),
    harmless: harmlessIf(below10mm),
    outOfScope: notMeantInUs,
  }),
  'advised-interval-agreement-eu-2020': advisedInterval({
    table: eu2020,
    adequate: adequate(goodOrBetter),
    harmless: harmlessIf(below10mm),
  }),
  'advised-interval-agreement-uk-2020': advisedInterval({
    table: uk2020,
    adequate: adequate(goodOrBetter),
    harmless: harmlessIf(smallInRectum),
  }),

  // US government measure 320: 45 to 75 years, screening that was completed, nothing taken.
  'interval-after-normal-screening-us-government-2024': {
    eligible: (row) => [
      over(row.age, 45),
      opposite(over(row.age, 76)),
      reasonIn('screening')(row),
      completed(row),
      opposite(tissueTaken(row)),
    ],
    met: (row) => advisedFrom(row, 119.5),
    excepted: (row) =>
      anyOf(
        opposite(adequate(usLine)(row)),
        row.familyHistoryOfColorectalCancer,
        row.earlierAdenoma,
        highRisk(row),
        over(row.age, 66),
      ),
  },
  // US government measure 185: to the day.
  'surveillance-interval-after-adenoma-us-government-2023': {
    eligible: (row) => [over(row.age, 18), reasonIn('surveillance')(row), completed(row), row.earlierAdenoma],
    met: ({ monthsSinceLastColonoscopy: months }) => (months === undefined ? undefined : months >= 36),
    excepted: (row) => anyOf(row.lastExaminationInadequate, highRisk(row)),
  },
  // US government measure 439.
  'screening-at-86-or-older-us-government-2024': {
    eligible: (row) => [over(row.age, 45), reasonIn('screening')(row)],
    met: (row) => over(row.age, 86),
  },

  // World Endoscopy Organization 2018: a share of the people with cancer, never of a person's examinations.
  'post-colonoscopy-cancer-rate-3-year-weo-2018': {
    eligible: (row) => [anyOf(row.cancerWithinSixMonths, later(row))],
    excluded: (row) => row.earlierColorectalCancer,
    windowDays: 1096,
    met: (row) => allOf(opposite(row.cancerWithinSixMonths), later(row)),
    persons: () => [],
  },
  // UK 2016: all of them, for the unit's review.
  'post-colonoscopy-cancer-cases-3-year-uk-2016': {
    eligible: (row) => [later(row)],
    windowDays: 1096,
    persons: () => [],
  },
}
