import type { TruthRow } from '../truth-row.ts'
import type { Nature } from '../truth-words.ts'
import { beyondSigmoid, beyondSplenicFlexure, found, foundThatIs, type OfPolyp } from './confirmed-lesions.ts'
import { allOf, anyOf, type Definitions, type Fact, opposite } from './definition.ts'
import { descriptive, ofUnit } from './detection.ts'
import { reaches, staysWithin } from './polyp-size.ts'
import { adenomaFound } from './row-facts.ts'

const serrated: readonly Nature[] = ['hyperplastic', 'sessile-serrated-lesion', 'traditional-serrated-adenoma']
const anAdenoma = (is: OfPolyp) => foundThatIs(['conventional-adenoma'], is)

const largeAdenoma = anAdenoma((polyp) => reaches(polyp, 10))
const advanced = (row: TruthRow, ...traits: readonly Fact[]): Fact =>
  allOf(adenomaFound(row), anyOf(row.highGradeDysplasiaFound, largeAdenoma(row), ...traits))

/** Every one but a hyperplastic polyp; of those the large, and above 5 mm the proximal. */
const significant: OfPolyp = (polyp) =>
  anyOf(reaches(polyp, 10), allOf(opposite(staysWithin(polyp, 5)), beyondSplenicFlexure(polyp)))

/** Measures that ask what a confirmed lesion was like, and where it lay: all descriptive. */
export const lesionsTruth: Definitions = {
  'proximal-adenoma-detection-rate-splenic-flexure-boundary-descriptive': descriptive(anAdenoma(beyondSplenicFlexure)),
  'proximal-adenoma-detection-rate-sigmoid-boundary-descriptive': descriptive(anAdenoma(beyondSigmoid)),
  'proximal-serrated-polyp-detection-rate-splenic-flexure-boundary-descriptive': descriptive(
    foundThatIs(serrated, beyondSplenicFlexure),
  ),
  'proximal-serrated-polyp-detection-rate-sigmoid-boundary-descriptive': descriptive(
    foundThatIs(serrated, beyondSigmoid),
  ),
  'clinically-significant-serrated-detection-rate-descriptive': descriptive((row) =>
    anyOf(
      found('sessile-serrated-lesion', 'traditional-serrated-adenoma')(row),
      foundThatIs(['hyperplastic'], significant)(row),
    ),
  ),

  'adenoma-at-least-10-mm-detection-rate-descriptive': descriptive(largeAdenoma),
  'diminutive-adenoma-detection-rate-descriptive': ofUnit(anAdenoma((polyp) => staysWithin(polyp, 5))),
  // Large, or of high grade; the US surveillance guideline adds a villous part, those of Europe and the UK do not.
  'advanced-adenoma-detection-rate-with-villous-descriptive': descriptive((row) =>
    advanced(row, row.villousAdenomaFound),
  ),
  'advanced-adenoma-detection-rate-without-villous-descriptive': descriptive((row) => advanced(row)),
}
