import type { Examination } from './examinations.ts'
import type { PathologyContext, PathologyFacts } from './pathology-facts.ts'
import { notePathology } from './pathology-trail.ts'
import type { PolypFindings } from './polyps.ts'

/** Nothing was found and no tissue is told of: most examinations, for which there is nothing to work out. */
export const isUntouched = (
  { specimens }: Examination,
  { polyps, unnamedRemovals, impliedRemovals }: PolypFindings,
): boolean => polyps.length === 0 && specimens.length === 0 && unnamedRemovals + impliedRemovals === 0

/** Facts of pathology where there is no tissue to speak of: none of anything, as far as it is known that no polyp was found. */
export function nothingSent(examination: Examination, { polypCount, feedComplete }: PathologyContext): PathologyFacts {
  const isNone = polypCount !== undefined
  const none = isNone ? 0 : undefined
  const no = isNone ? false : undefined
  const facts: PathologyFacts = {
    pathology: isNone && feedComplete ? 'not-sent' : undefined,
    histologySource: undefined,
    adenomaFound: no,
    traditionalSerratedFound: no,
    sessileSerratedFound: no,
    cancerFound: no,
    adenomaCount: none,
    adenomaCountLower: none,
    adenomaCountUpper: none,
    traditionalSerratedCount: none,
    sessileSerratedCount: none,
    hyperplasticCount: none,
    cancerCount: none,
    otherHistologyCount: none,
    largestAdenomaMillimetres: undefined,
    villousAdenomaFound: no,
    highGradeDysplasiaFound: no,
    colitisDysplasiaFound: undefined,
  }
  if (examination.trail) notePathology(examination, facts, nothingRead)
  return facts
}

const nothingRead = { counted: [], read: [], loose: [], slots: 0, unread: [] }
