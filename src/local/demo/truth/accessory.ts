import type { TruthRow } from '../truth-row.ts'
import { allOf, anyOf, type Definition, type Definitions, type Fact, opposite } from './definition.ts'
import { gaveUp, stoppedByStricture } from './row-facts.ts'

const everyone: Definition['eligible'] = () => []

const began =
  (...how: readonly TruthRow['attachment'][]) =>
  ({ attachment }: TruthRow): Fact =>
    attachment === undefined ? undefined : how.includes(attachment)
const ended =
  (...how: readonly TruthRow['attachmentOutcome'][]) =>
  ({ attachmentOutcome: outcome }: TruthRow): Fact =>
    outcome === undefined ? undefined : how.includes(outcome)

/** From the start or added later; of a device of which nobody says when it was put on, neither. */
const attached = began('before-insertion', 'added-later')
const amongAttached = (met: (row: TruthRow) => Fact): Definition => ({ eligible: (row) => [attached(row)], met })

const inflamed = ({ inflammatoryBowelDisease, inflammatoryBowelDiseaseActivity: activity }: TruthRow): Fact =>
  allOf(inflammatoryBowelDisease, activity === undefined ? undefined : activity !== 'quiescent')

/** Recorded beforehand: whom trials left out for it, and whom instructions caution against. */
const caution = (row: TruthRow): Fact => anyOf(row.strictureKnown, row.severeDiverticulosis, inflamed(row))

/** Nobody writes down how a known colitis looked that day, but by the reason for which the examination was given up. */
const inflammationSeen = (row: TruthRow): Fact =>
  allOf(
    anyOf(gaveUp(row, 'severe-inflammation'), row.inflammatoryBowelDisease ? undefined : false),
    opposite(inflamed(row)),
  )

/** What came up on the way, and was not known before. */
const firstSeen = (row: TruthRow): Fact =>
  anyOf(
    row.inflammatoryBowelDiseaseSeen,
    allOf(stoppedByStricture(row), opposite(row.strictureKnown)),
    inflammationSeen(row),
  )

/** Measures of accessory use, by hand from their own definitions and the exclusions of two randomised trials. */
export const accessoryTruth: Definitions = {
  'attachment-before-insertion-share-descriptive': { eligible: everyone, met: began('before-insertion') },
  'attachment-added-later-share-descriptive': { eligible: everyone, met: began('added-later') },
  'attachment-removed-share-descriptive': amongAttached(ended('removed')),
  'attachment-detached-share-descriptive': amongAttached(ended('detached')),
  'attachment-reinserted-share-descriptive': {
    eligible: (row) => [attached(row), ended('removed', 'detached')(row)],
    met: ({ attachmentReinserted }) => attachmentReinserted,
  },
  'attachment-with-recorded-caution-share-descriptive': amongAttached(caution),
  'attachment-withheld-with-recorded-caution-share-descriptive': {
    eligible: (row) => [caution(row)],
    met: began('none'),
  },
  // A trial left out whoever had part of the bowel removed, or was under 18.
  'attachment-with-trial-exclusion-share-descriptive': amongAttached(({ earlierResection, age }) =>
    anyOf(earlierResection, age === undefined ? undefined : age < 18),
  ),
  'attachment-left-on-after-finding-share-descriptive': amongAttached((row) =>
    allOf(ended('kept')(row), firstSeen(row)),
  ),
}
