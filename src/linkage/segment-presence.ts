import type { Colonoscopy } from '../record/colonoscopy.ts'
import { type BostonStated, type SegmentStated, segments } from './boston.ts'
import type { Examination } from './examinations.ts'
import { valueElementOf } from './reading.ts'

/** What is known of an earlier resection, which decides which segments exist. */
export type EarlierResection = Pick<Colonoscopy, 'earlierResection' | 'resectedPart'>
/** Whether and why the examination was stopped. */
export type Stop = Pick<Colonoscopy, 'completion' | 'stopReason'>

/** Parts whose resection takes a segment whole; of the left one the rectum may be left behind, which is scored with it. */
const taken: readonly (readonly EarlierResection['resectedPart'][])[] = [
  [],
  ['transverse', 'subtotal', 'total'],
  ['right', 'subtotal', 'total'],
]

/**
 * Whether a segment exists. A score that is said not to apply tells of a missing segment only where none is known to be whole,
 * and the examination was not stopped before it: else it may just not have been seen.
 */
export function presenceOf(
  { statements, notApplicable }: SegmentStated,
  index: number,
  { earlierResection, resectedPart }: EarlierResection,
  { completion }: Stop,
  { trail }: Examination,
): boolean | undefined {
  const field = segments[index]?.present ?? 'leftSegmentPresent'
  const isTaken = earlierResection === true && taken[index]?.includes(resectedPart) === true
  const [scored] = statements
  if (scored !== undefined && (isTaken || notApplicable !== undefined)) {
    trail?.contradict(
      'bowel segment scored, but taken by an earlier resection or not to be scored',
      ...statements.map(({ told }) => told.resource),
    )
    return undefined
  }
  if (scored !== undefined) {
    trail?.note(field, scored.told.resource, scored.told.rung, valueElementOf(scored.told))
    return true
  }
  if (isTaken) {
    trail?.note(field, undefined, 'inferred from the history', 'earlier resection')
    return false
  }
  if (notApplicable !== undefined) {
    if (earlierResection === false || (completion === 'stopped' && earlierResection !== true)) return undefined
    trail?.note(field, notApplicable.resource, notApplicable.rung, 'Observation.dataAbsentReason')
    return false
  }
  if (earlierResection !== false) return undefined
  trail?.note(field, undefined, 'inferred from the history', 'earlier resection')
  return true
}

/** Scores from the anus inwards, with 0 for a segment that was not seen for stool: unscored, beyond a scored one, and there. */
export function withUnseen(
  { segments: heard }: BostonStated,
  present: readonly (boolean | undefined)[],
  forStool: boolean,
  { earlierResection }: EarlierResection,
  { trail, lead }: Examination,
): (number | undefined)[] {
  let seen = false
  return heard.map(({ score, statements, notApplicable, unread }, index) => {
    const isOpen = statements.length === 0 && !unread && notApplicable === undefined
    const exists = present[index] === true || (present[index] === undefined && earlierResection !== true)
    if (forStool && seen && isOpen && exists) {
      trail?.note(
        segments[index]?.field ?? 'preparationLeft',
        lead,
        'inferred from the stop reason',
        'Procedure.statusReason',
      )
      return 0
    }
    seen ||= statements.length > 0
    return score
  })
}
