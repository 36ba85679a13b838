import type { TruthRow } from '../truth-row.ts'
import { found } from './confirmed-lesions.ts'
import { anyOf, type Definition, type Definitions, type Fact, opposite, over } from './definition.ts'
import { adenomaFound, histologyKnown, polypsFound, preparedWell, reached, reasonIn } from './row-facts.ts'

type OfRow = (row: TruthRow) => Fact
type Who = Definition['eligible']

const knownDisease: OfRow = ({ inflammatoryBowelDisease, hereditarySyndrome }) =>
  anyOf(inflammatoryBowelDisease, hereditarySyndrome)
/** A known lesion goes before every other reason. */
const toTreat: OfRow = reasonIn('known-lesion')
const toTreatOrCheck: OfRow = reasonIn('known-lesion', 'site-check')
const staying: OfRow = ({ setting }) => (setting === undefined ? undefined : setting !== 'outpatient')
const reasonTold: OfRow = ({ reason }) => (reason === undefined ? undefined : true)

const aged =
  (least: number, ...which: readonly OfRow[]): Who =>
  (row) => [over(row.age, least), ...which.map((is) => is(row))]
const any =
  (...facts: readonly OfRow[]): OfRow =>
  (row) =>
    anyOf(...facts.map((is) => is(row)))

const rate = (eligible: Who, excluded?: OfRow, met: OfRow = adenomaFound): Definition => ({
  eligible,
  ...(excluded && { excluded }),
  histology: true,
  met,
})

/**
 * All indications pooled from age 45; after a positive screening test, to treat or check a known lesion, in colitis and in
 * hereditary syndromes it is not counted. US 2024.
 */
const us2024 = (met: OfRow, ...apart: readonly OfRow[]): Definition =>
  rate(aged(45, reasonTold), any(reasonIn('positive-screening-test'), toTreatOrCheck, knownDisease, ...apart), met)
/** Measured apart, from age 45, whatever else is asked about there. US 2024. */
const afterTest = (...reasons: readonly TruthRow['reason'][]): Definition =>
  rate(aged(45, reasonIn(...reasons)), any(toTreat, knownDisease))

/** From age 50; therapy, colitis, syndromes and whoever lies in a hospital are out. EU 2017. */
const eu2017 = (met: OfRow, ...apart: readonly OfRow[]): Definition =>
  rate(aged(50, reasonTold), any(toTreatOrCheck, knownDisease, staying, ...apart), met)

/** New findings in adults: what every descriptive share of detection is a share of. */
const inAdults = aged(18)
const notNew: OfRow = any(toTreatOrCheck, knownDisease)
export const descriptive = (met: OfRow): Definition => rate(inAdults, notNew, met)
/** For the unit alone. */
export const ofUnit = (met: OfRow): Definition => ({ ...descriptive(met), persons: () => [] })

/** No histology is waited for where none is asked. */
const withoutHistology = ({ eligible, excluded }: Definition): Definition => ({
  eligible,
  ...(excluded && { excluded }),
  met: polypsFound,
})

const adenomaOrCancer = found('conventional-adenoma', 'cancer')

/** First screening, and nothing in the history that makes the risk another. US 2015. */
const notAverageRisk: OfRow = (row) =>
  anyOf(
    row.monthsSinceLastColonoscopy !== undefined || undefined,
    toTreat(row),
    knownDisease(row),
    row.earlierColorectalCancer,
    row.familyHistoryOfColorectalCancer,
    row.earlierAdenoma,
    staying(row),
  )

/** A polyp that can have no histology, predicted to be an adenoma. */
const predicted: OfRow = ({ polyps }) =>
  anyOf(
    ...polyps
      .filter(({ handling, retrieval }) =>
        [handling, retrieval].some((one) =>
          ['left', 'not-found-again', 'not-retrieved', 'discarded-under-protocol'].includes(one ?? ''),
        ),
      )
      .map(({ predictedHistology: told }) => (told === undefined ? undefined : told === 'conventional-adenoma')),
  )

/** Measures of adenoma and polyp detection, by hand from the published definitions. */
export const detectionTruth: Definitions = {
  'adenoma-detection-rate-us-2024': us2024(adenomaFound),
  'adenoma-detection-rate-complete-and-prepared-us-2024': us2024(
    adenomaFound,
    (row) => opposite(reached(row)),
    (row) => opposite(preparedWell(row)),
  ),
  'adenoma-detection-rate-with-cancer-us-2024': us2024(adenomaOrCancer),
  'adenoma-detection-rate-with-traditional-serrated-us-2024': us2024(
    found('conventional-adenoma', 'traditional-serrated-adenoma'),
  ),
  'adenoma-detection-rate-outpatients-us-2024': {
    ...us2024(adenomaFound),
    eligible: aged(45, reasonTold, (row) => opposite(staying(row))),
  },
  'adenoma-detection-rate-without-earlier-resection-us-2024': us2024(
    adenomaFound,
    ({ earlierResection }) => earlierResection,
  ),
  'adenoma-detection-rate-without-any-positive-test-us-2024': us2024(adenomaFound, reasonIn('symptoms-positive-test')),
  'adenoma-detection-rate-without-disease-first-seen-us-2024': us2024(
    adenomaFound,
    ({ inflammatoryBowelDiseaseSeen }) => inflammatoryBowelDiseaseSeen,
  ),
  'sessile-serrated-lesion-detection-rate-us-2024': us2024(found('sessile-serrated-lesion')),
  'adenoma-detection-rate-after-positive-screening-test-us-2024': afterTest('positive-screening-test'),
  'adenoma-detection-rate-after-any-positive-test-us-2024': afterTest(
    'positive-screening-test',
    'symptoms-positive-test',
  ),

  'adenoma-detection-rate-eu-2017': eu2017(adenomaFound),
  'adenoma-detection-rate-without-surveillance-eu-2017': eu2017(adenomaFound, reasonIn('surveillance')),
  'polyp-detection-rate-eu-2017': withoutHistology(eu2017(polypsFound)),
  'polyp-detection-rate-descriptive': withoutHistology(descriptive(polypsFound)),

  // Adults, everything but screening, nobody taken out. UK 2016. The programme counts whomever it invites.
  'adenoma-detection-rate-uk-2016': rate(
    aged(18, reasonIn('known-lesion', 'site-check', 'surveillance', 'symptoms-positive-test', 'symptoms')),
  ),
  'adenoma-detection-rate-uk-screening-programme': rate((row) => [reasonIn('positive-screening-test')(row)]),

  'adenoma-detection-rate-us-2015': rate(aged(50, reasonIn('screening')), notAverageRisk),
  // US government measure 343: a cancer counts.
  'adenoma-or-cancer-detection-rate-us-government-2019': rate(
    aged(50, reasonIn('screening')),
    undefined,
    adenomaOrCancer,
  ),

  'adenomas-per-colonoscopy-descriptive': {
    eligible: inAdults,
    excluded: notNew,
    histology: true,
    value: (row) => (histologyKnown(row) ? row.confirmedAdenomas : undefined),
  },
  // The mean of those that have one: whoever has none is taken out.
  'adenomas-per-positive-colonoscopy-descriptive': {
    eligible: inAdults,
    excluded: any((row) => opposite(adenomaFound(row)), notNew),
    histology: true,
    value: (row) => (histologyKnown(row) ? row.confirmedAdenomas : undefined),
  },
  // Predicted is not histology, but counts here.
  'adenoma-detection-rate-with-optical-diagnosis-descriptive': descriptive(any(adenomaFound, predicted)),
  'cancer-detection-rate-descriptive': ofUnit(found('cancer')),
}
