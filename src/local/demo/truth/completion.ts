import type { TruthRow } from '../truth-row.ts'
import { allOf, anyOf, type Definition, type Definitions, type Fact, opposite } from './definition.ts'
import { everySegmentClean, gaveUp, reached, reasonIn, stoppedByStricture, stoppedForStool } from './row-facts.ts'

const screenedOrWatched = reasonIn('screening', 'surveillance')
const meant = (row: TruthRow): Fact => row.intent === 'complete'
const proven = (row: TruthRow): Fact => allOf(reached(row), row.photographs.length > 0)

/** Nobody is taken out but who was referred to treat a known lesion, and who was given up for stool or colitis that is recorded. */
const adjusted2015 = (who: (row: TruthRow) => readonly Fact[]): Definition => ({
  eligible: (row) => [meant(row), ...who(row)],
  excluded: (row) =>
    anyOf(
      reasonIn('known-lesion')(row),
      allOf(
        opposite(reached(row)),
        anyOf(
          stoppedForStool(row),
          allOf(
            gaveUp(row, 'severe-inflammation'),
            anyOf(row.inflammatoryBowelDisease, row.inflammatoryBowelDiseaseSeen),
          ),
        ),
      ),
    ),
  met: reached,
})

const byTrainee = (helps: readonly TruthRow['takeover'][]): Definition => ({
  eligible: (row) => [meant(row), row.operatorRole === undefined ? undefined : row.operatorRole === 'trainee'],
  met: (row) => allOf(reached(row), row.takeover === undefined ? undefined : helps.includes(row.takeover)),
})

/**
 * Photographs of the caecum; an anastomosis is not one of its landmarks. Where the caecum was resected nobody can take one: by the
 * part that is named, else because the way ended at an anastomosis.
 */
const photographed = (least: number): Definition => ({
  eligible: (row) => [screenedOrWatched(row), !row.stopped || reached(row)],
  excluded: ({ earlierResection, resectedPart, extent, photographs }) =>
    allOf(
      earlierResection,
      resectedPart === undefined
        ? extent === 'anastomosis' || photographs.includes('anastomosis') || undefined
        : resectedPart === 'right',
    ),
  met: ({ photographs }) => photographs.filter((landmark) => landmark !== 'anastomosis').length >= least,
})

const done = (attempt: TruthRow['ileum']): Fact => (attempt === undefined ? undefined : attempt === 'done')
const tried = (attempt: TruthRow['ileum']): Fact => (attempt === undefined ? undefined : attempt !== 'not-attempted')

/** Measures of completion, by hand from the published definitions. */
export const completionTruth: Definitions = {
  // Photographic proof in every case, nobody taken out. UK 2016, US 2024; two guidelines count some referrals alone.
  'caecal-intubation-rate-uk-2016': { eligible: (row) => [meant(row)], met: proven },
  'caecal-intubation-rate-us-2024': { eligible: (row) => [meant(row)], met: proven },
  'caecal-intubation-rate-aga-2021': { eligible: (row) => [meant(row), screenedOrWatched(row)], met: proven },
  'caecal-intubation-rate-uk-screening-programme': {
    eligible: (row) => [meant(row), reasonIn('positive-screening-test')(row)],
    met: proven,
  },
  // Treatment of a known lesion is out of scope. EU 2017.
  'caecal-intubation-rate-eu-2017': {
    eligible: (row) => [meant(row)],
    excluded: reasonIn('known-lesion'),
    met: proven,
  },
  'caecal-intubation-rate-without-proof-descriptive': { eligible: (row) => [meant(row)], met: reached },
  // Failures for stool or an impassable stricture are taken out. UK national audit 2011.
  'caecal-intubation-rate-adjusted-uk-2011': {
    eligible: (row) => [meant(row)],
    excluded: (row) =>
      allOf(
        opposite(reached(row)),
        anyOf(stoppedForStool(row), stoppedByStricture(row), opposite(everySegmentClean(row))),
      ),
    met: reached,
  },
  'caecal-intubation-rate-adjusted-us-2015': adjusted2015(() => []),
  'caecal-intubation-rate-adjusted-screening-us-2015': adjusted2015((row) => [reasonIn('screening')(row)]),
  'unassisted-caecal-intubation-rate-trainees-descriptive': byTrainee(['none']),
  'caecal-intubation-rate-without-takeover-trainees-descriptive': byTrainee(['none', 'verbal']),
  'completion-after-incomplete-examination-descriptive': {
    eligible: (row) => [meant(row), row.afterIncompleteExamination],
    met: reached,
  },
  // US government measure 425: two landmarks in the text of 2020, landmarks without a number in that of 2017.
  'landmark-photographs-us-government-2020': photographed(2),
  'landmark-photographs-us-government-2017': photographed(1),
  'ileum-entered-of-attempted-descriptive': {
    eligible: ({ ileum }) => [tried(ileum)],
    met: ({ ileum }) => done(ileum),
  },
  'ileum-entered-of-all-descriptive': {
    eligible: (row) => [meant(row)],
    met: (row) => allOf(reached(row), done(row.ileum)),
  },
  // Without a rectum it is out; severe inflammation and discomfort excuse. UK 2016.
  'rectal-retroflexion-rate-uk-2016': {
    eligible: () => [],
    excluded: ({ earlierResection, resectedPart }) =>
      allOf(earlierResection, resectedPart === undefined ? undefined : resectedPart === 'rectum'),
    met: ({ retroflexion }) => done(retroflexion),
    excepted: (row) =>
      anyOf(
        row.inflammatoryBowelDiseaseActivity === undefined
          ? undefined
          : row.inflammatoryBowelDiseaseActivity === 'severe',
        gaveUp(row, 'severe-inflammation'),
        gaveUp(row, 'discomfort'),
      ),
  },
  'rectal-retroflexion-of-attempted-descriptive': {
    eligible: ({ retroflexion }) => [tried(retroflexion)],
    met: ({ retroflexion }) => done(retroflexion),
  },
}
