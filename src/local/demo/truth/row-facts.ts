import type { TruthRow } from '../truth-row.ts'
import { allOf, type Fact, opposite } from './definition.ts'

/** Caecum, ileum or anastomosis, by what was written or photographed; stopped without either is not reached. */
export function reached(row: TruthRow): Fact {
  if (row.photographs.length > 0) return true
  if (row.extent !== undefined) return ['caecum', 'ileum', 'anastomosis'].includes(row.extent)
  return row.stopped ? false : undefined
}

/**
 * Each Boston segment at least 2; a total alone decides below 6 and from 8. After a resection that names no part as few as one
 * segment may be left, so only a total below 2 tells that one is not clean.
 */
export function everySegmentClean({ preparation, earlierResection }: TruthRow): Fact {
  if (preparation?.kind === 'total')
    return preparation.total < (earlierResection ? 2 : 6) ? false : preparation.total >= 8 ? true : undefined
  if (preparation?.kind !== 'segments') return undefined
  const scores = [preparation.left, preparation.transverse, preparation.right]
  return allOf(...scores.map((score) => (score === undefined ? undefined : score >= 2)))
}

/** Stopped because of stool; scores that are all clean contradict the stated reason. */
export function stoppedForStool(row: TruthRow): Fact {
  if (!row.stopped || reached(row)) return false
  if (row.stopReason === undefined) return undefined
  if (row.stopReason !== 'inadequate-preparation') return false
  const { preparation } = row
  if (preparation?.kind !== 'segments') return true
  const scored = [preparation.left, preparation.transverse, preparation.right].filter((score) => score !== undefined)
  return scored.every((score) => score >= 2) ? undefined : true
}

export function stoppedByStricture(row: TruthRow): Fact {
  if (!row.stopped || reached(row)) return false
  if (row.stopReason === undefined) return undefined
  return row.stopReason === 'impassable-stricture' || row.stopReason === 'obstructing-lesion'
}

/** Why it was given up; an examination that reached the end was not, whatever it is called. */
export const gaveUp = (row: TruthRow, reason: TruthRow['stopReason']): Fact =>
  row.stopped && reached(row) === false ? (row.stopReason === undefined ? undefined : row.stopReason === reason) : false

/** A polyp of which nothing is said but that it was there may have been removed, or not. */
export const unexplained = (row: TruthRow): boolean => row.polyps.some(({ handling }) => handling === undefined)

/** An examination carried through that has no report of its own is taken at its word, like one with a final report. */
export const reportIsIn = (row: TruthRow): boolean =>
  row.report === 'final' || (row.report === undefined && !row.stopped)

export function histologyKnown(row: TruthRow): boolean {
  if (row.pathology === 'final') return true
  return row.pathology === 'not-sent' && !unexplained(row) && (row.polyps.length > 0 || reportIsIn(row))
}

export const adenomaFound = (row: TruthRow): Fact => (histologyKnown(row) ? row.confirmedAdenomas > 0 : undefined)

/** None is known to be there only by a report that is in. */
export const polypsFound = (row: TruthRow): Fact => (row.polyps.length > 0 ? true : reportIsIn(row) ? false : undefined)

export function removedPolyp(row: TruthRow): Fact {
  if (row.polyps.some(({ handling }) => handling === 'removed')) return true
  if (unexplained(row) || (row.polyps.length === 0 && !reportIsIn(row))) return undefined
  return false
}

export function tissueTaken(row: TruthRow): Fact {
  if (row.randomBiopsies > 0) return true
  if (row.polyps.some(({ handling }) => handling === 'removed' || handling === 'biopsied')) return true
  return unexplained(row) || !reportIsIn(row) ? undefined : false
}

export const reasonIn =
  (...reasons: readonly TruthRow['reason'][]) =>
  (row: TruthRow): Fact =>
    row.reason === undefined ? undefined : reasons.includes(row.reason)

export function preparedWell(row: TruthRow): Fact {
  const { preparation } = row
  const scored =
    preparation === undefined ? undefined : preparation.kind === 'level' ? preparation.adequate : everySegmentClean(row)
  return allOf(scored, opposite(stoppedForStool(row)))
}
