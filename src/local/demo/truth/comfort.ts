import type { TruthRow } from '../truth-row.ts'
import { allOf, type Definition, type Definitions, type Fact, opposite, over } from './definition.ts'
import { reached, reasonIn } from './row-facts.ts'

const everyone: Definition['eligible'] = () => []
const ledByAnaesthetist = (row: TruthRow): Fact => row.anaesthetistLed

/** One unit scores from 0 to 4, which the region reads as 1 to 5. A score is of its scale; without one there is none. */
const scoresFromZero = ({ procedure }: TruthRow): boolean => procedure.startsWith('Procedure/tar')
const scoredFromZero = (row: TruthRow): Fact => (row.comfort === undefined ? undefined : scoresFromZero(row))
const fromOneToFive = (row: TruthRow): number | undefined =>
  row.comfort === undefined ? undefined : row.comfort + (scoresFromZero(row) ? 1 : 0)

const moreThan = (value: number | undefined, most: number): Fact => (value === undefined ? undefined : value > most)
const hurt = (row: TruthRow): Fact => moreThan(fromOneToFive(row), 3)

type Dose = (row: TruthRow) => number | undefined

const doses: Readonly<Record<'midazolam' | 'fentanyl' | 'pethidine', Dose>> = {
  midazolam: (row) => row.midazolamMilligrams,
  fentanyl: (row) => row.fentanylMicrograms,
  pethidine: (row) => row.pethidineMilligrams,
}
const ages: Readonly<Record<'under-70' | '70-and-over', (row: TruthRow) => Fact>> = {
  'under-70': (row) => opposite(over(row.age, 70)),
  '70-and-over': (row) => over(row.age, 70),
}

/** UK 2016: doses where any was given, below 70 and from 70 on; the siblings take everybody of that age. */
const ofDoses: Definitions = Object.fromEntries(
  Object.entries(doses).flatMap(([drug, dose]) =>
    Object.entries(ages).flatMap(([age, isOfAge]): [string, Definition][] => [
      [
        `median-${drug}-dose-${age}-uk-2016`,
        { eligible: (row) => [isOfAge(row), moreThan(dose(row), 0)], excluded: ledByAnaesthetist, value: dose },
      ],
      [
        `median-${drug}-dose-all-patients-${age}-descriptive`,
        { eligible: (row) => [isOfAge(row)], excluded: ledByAnaesthetist, value: dose },
      ],
    ]),
  ),
)

const sedated = (row: TruthRow): Fact => row.sedated
const reversed = (row: TruthRow): Fact => row.reversalAgent

/** Measures of comfort and sedation, by hand from the published definitions. */
export const comfortTruth: Definitions = {
  // 4 or 5 of 5. UK 2016.
  'moderate-or-severe-discomfort-rate-uk-2016': { eligible: everyone, met: hurt },
  'moderate-or-severe-discomfort-rate-without-anaesthetist-descriptive': {
    eligible: everyone,
    excluded: ledByAnaesthetist,
    met: hurt,
  },
  // 3 or 4 of 4, where that scale is used.
  'discomfort-rate-zero-to-four-scale-descriptive': {
    eligible: (row) => [scoredFromZero(row)],
    met: (row) => moreThan(row.comfort, 2),
  },
  'good-patient-experience-rate-descriptive': {
    eligible: everyone,
    met: ({ patientExperience }) => (patientExperience === undefined ? undefined : patientExperience === 'good'),
  },
  ...ofDoses,
  'median-propofol-dose-descriptive': {
    eligible: (row) => [moreThan(row.propofolMilligrams, 0)],
    value: (row) => row.propofolMilligrams,
  },
  'unsedated-share-descriptive': { eligible: everyone, met: (row) => opposite(sedated(row)) },
  'reversal-agent-rate-descriptive': { eligible: (row) => [sedated(row)], met: reversed },
  // Table of a review of 2014: screening and surveillance.
  'reversal-agent-rate-review-2014': {
    eligible: (row) => [reasonIn('screening', 'surveillance')(row), sedated(row)],
    met: reversed,
  },
  // Endoscopy 2018: the caecum, at most 2 mg of midazolam, comfort of 3 at most.
  'intubation-composite-descriptive': {
    eligible: (row) => [row.intent === 'complete'],
    excluded: ledByAnaesthetist,
    met: (row) => allOf(reached(row), opposite(moreThan(row.midazolamMilligrams, 2)), opposite(hurt(row))),
  },
}
