import type { TruthRow } from './truth-row.ts'

/**
 * What the nine measures should say of the demo, counted straight from the truth rows and written from the published
 * definitions. It shares no code with linkage, criteria or tally, so that a mistake there cannot hide here.
 */
export type TruthAnswer =
  | 'out'
  | 'eligibilityNotRecorded'
  | 'excluded'
  | 'pending'
  | 'met'
  | 'notRecorded'
  | 'excepted'
  | 'notMet'

/** True, false, or not recorded. */
type Fact = boolean | undefined

/** One measure, by hand: who is in, who is taken out, what counts. */
interface Definition {
  /** Every condition must hold; one that fails puts the examination out. */
  readonly eligible: (row: TruthRow) => readonly Fact[]
  readonly excluded?: (row: TruthRow) => Fact
  /** Histology may still change the answer. */
  readonly histology?: true
  readonly met?: (row: TruthRow) => Fact
  /** Value observed instead of, or beside, a numerator. */
  readonly value?: (row: TruthRow) => number | undefined
}

const over = (age: number | undefined, least: number): Fact => (age === undefined ? undefined : age >= least)

/** Any true is true; else any unknown is unknown. */
const anyOf = (...facts: readonly Fact[]): Fact =>
  facts.includes(true) ? true : facts.includes(undefined) ? undefined : false
/** Any false is false; else any unknown is unknown. */
const allOf = (...facts: readonly Fact[]): Fact =>
  facts.includes(false) ? false : facts.includes(undefined) ? undefined : true
const opposite = (fact: Fact): Fact => (fact === undefined ? undefined : !fact)

/** Caecum, ileum or anastomosis, by what was written or photographed; stopped without either is not reached. */
function reached(row: TruthRow): Fact {
  if (row.photographs.length > 0) return true
  if (row.extent !== undefined) return ['caecum', 'ileum', 'anastomosis'].includes(row.extent)
  return row.stopped ? false : undefined
}

/**
 * Each Boston segment at least 2; a total alone decides below 6 and from 8. After a resection that names no part as few as one
 * segment may be left, so only a total below 2 tells that one is not clean.
 */
function everySegmentClean({ preparation, earlierResection }: TruthRow): Fact {
  if (preparation?.kind === 'total')
    return preparation.total < (earlierResection ? 2 : 6) ? false : preparation.total >= 8 ? true : undefined
  if (preparation?.kind !== 'segments') return undefined
  const scores = [preparation.left, preparation.transverse, preparation.right]
  return allOf(...scores.map((score) => (score === undefined ? undefined : score >= 2)))
}

/** Stopped because of stool; scores that are all clean contradict the stated reason. */
function stoppedForStool(row: TruthRow): Fact {
  if (!row.stopped || reached(row)) return false
  if (row.stopReason === undefined) return undefined
  if (row.stopReason !== 'inadequate-preparation') return false
  const { preparation } = row
  if (preparation?.kind !== 'segments') return true
  const scored = [preparation.left, preparation.transverse, preparation.right].filter((score) => score !== undefined)
  return scored.every((score) => score >= 2) ? undefined : true
}

function stoppedByStricture(row: TruthRow): Fact {
  if (!row.stopped || reached(row)) return false
  if (row.stopReason === undefined) return undefined
  return row.stopReason === 'impassable-stricture' || row.stopReason === 'obstructing-lesion'
}

/** A polyp of which nothing is said but that it was there may have been removed, or not. */
const unexplained = (row: TruthRow): boolean => row.polyps.some(({ handling }) => handling === undefined)

/** An examination carried through that has no report of its own is taken at its word, like one with a final report. */
const reportIsIn = (row: TruthRow): boolean => row.report === 'final' || (row.report === undefined && !row.stopped)

function histologyKnown(row: TruthRow): boolean {
  if (row.pathology === 'final') return true
  return row.pathology === 'not-sent' && !unexplained(row) && (row.polyps.length > 0 || reportIsIn(row))
}

const adenomaFound = (row: TruthRow): Fact => (histologyKnown(row) ? row.confirmedAdenomas > 0 : undefined)

function removedPolyp(row: TruthRow): Fact {
  if (row.polyps.some(({ handling }) => handling === 'removed')) return true
  if (unexplained(row) || (row.polyps.length === 0 && !reportIsIn(row))) return undefined
  return false
}

function tissueTaken(row: TruthRow): Fact {
  if (row.randomBiopsies > 0) return true
  if (row.polyps.some(({ handling }) => handling === 'removed' || handling === 'biopsied')) return true
  return unexplained(row) || !reportIsIn(row) ? undefined : false
}

const reasonIn =
  (...reasons: readonly TruthRow['reason'][]) =>
  (row: TruthRow): Fact =>
    row.reason === undefined ? undefined : reasons.includes(row.reason)
const within30 = (day: number | undefined): boolean => day !== undefined && day <= 30

function preparedWell(row: TruthRow): Fact {
  const { preparation } = row
  const scored =
    preparation === undefined ? undefined : preparation.kind === 'level' ? preparation.adequate : everySegmentClean(row)
  return allOf(scored, opposite(stoppedForStool(row)))
}

const definitions: Readonly<Record<string, Definition>> = {
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
  // Photographic proof in every case, nobody taken out. UK 2016.
  'caecal-intubation-rate-uk-2016': {
    eligible: (row) => [row.intent === 'complete'],
    met: (row) => allOf(reached(row), row.photographs.length > 0),
  },
  // Failures for stool or an impassable stricture are taken out. UK national audit 2011.
  'caecal-intubation-rate-adjusted-uk-2011': {
    eligible: (row) => [row.intent === 'complete'],
    excluded: (row) =>
      allOf(
        opposite(reached(row)),
        anyOf(stoppedForStool(row), stoppedByStricture(row), opposite(everySegmentClean(row))),
      ),
    met: reached,
  },
  // Outpatients; each Boston segment at least 2, or said to be adequate; stopped for stool is not adequate. US 2024.
  'adequate-bowel-preparation-rate-us-2024': {
    eligible: (row) => [row.setting === undefined ? undefined : row.setting === 'outpatient'],
    met: preparedWell,
  },
  // Mean minutes of complete examinations from age 45 in which no tissue was taken; resected bowels are out. US 2024.
  'withdrawal-time-us-2024': {
    eligible: (row) => [over(row.age, 45), allOf(reached(row), opposite(tissueTaken(row)))],
    excluded: (row) => row.earlierResection,
    value: (row) => row.withdrawalMinutes,
  },
  'perforation-rate-30-day-descriptive': { eligible: () => [], met: (row) => within30(row.perforationDay) },
  'post-polypectomy-bleeding-rate-30-day-descriptive': {
    eligible: (row) => [removedPolyp(row)],
    met: (row) => within30(row.bleedingDay),
  },
}

/** Ids of the measures that can be counted from the truth. */
export const truthMeasures: readonly string[] = Object.keys(definitions)

/**
 * What one examination answers to one measure on 2026-08-15.
 *
 * @throws {RangeError} when the measure is not one of the nine
 */
export function truthAnswer(measure: string, row: TruthRow): { readonly answer: TruthAnswer; readonly value?: number } {
  const definition = definitions[measure]
  if (definition === undefined) throw new RangeError(`truthAnswer requires a known measure, not ${measure}`)
  const eligible = allOf(...definition.eligible(row))
  if (eligible === false) return { answer: 'out' }
  if (eligible === undefined) return { answer: 'eligibilityNotRecorded' }
  if (definition.excluded?.(row) === true) return { answer: 'excluded' }
  // A report that is not finished settles nothing. The event windows of all examinations have closed by then.
  if (row.report === 'preliminary') return { answer: 'pending' }
  if (definition.histology && row.pathology === 'pending') return { answer: 'pending' }
  if (definition.value) {
    const value = definition.value(row)
    return value === undefined ? { answer: 'notRecorded' } : { answer: 'met', value }
  }
  const met = definition.met?.(row)
  return { answer: met === undefined ? 'notRecorded' : met ? 'met' : 'notMet' }
}
