import { anyOf, type Definitions, over } from './definition.ts'
import { adenomaFound, histologyKnown, reasonIn } from './row-facts.ts'

/** Measures of detection, by hand from the published definitions. */
export const detectionTruth: Definitions = {
  // All indications pooled from age 45; after a positive screening test, to treat or check a known lesion, in colitis and in
  // hereditary syndromes it is not counted. US 2024.
  'adenoma-detection-rate-us-2024': {
    eligible: (row) => [over(row.age, 45), row.reason === undefined ? undefined : true],
    excluded: (row) =>
      anyOf(
        reasonIn('positive-screening-test', 'known-lesion', 'site-check')(row),
        row.inflammatoryBowelDisease,
        row.hereditarySyndrome,
      ),
    histology: true,
    met: adenomaFound,
  },
  // Adults, everything but screening, nobody taken out. UK 2016.
  'adenoma-detection-rate-uk-2016': {
    eligible: (row) => [
      over(row.age, 18),
      reasonIn('known-lesion', 'site-check', 'surveillance', 'symptoms-positive-test', 'symptoms')(row),
    ],
    histology: true,
    met: adenomaFound,
  },
  'adenomas-per-colonoscopy-descriptive': {
    eligible: (row) => [over(row.age, 18)],
    excluded: (row) =>
      anyOf(reasonIn('known-lesion', 'site-check')(row), row.inflammatoryBowelDisease, row.hereditarySyndrome),
    histology: true,
    value: (row) => (histologyKnown(row) ? row.confirmedAdenomas : undefined),
  },
}
