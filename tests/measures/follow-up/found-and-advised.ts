import type { Colonoscopy, Polyp } from '../../../src/record/colonoscopy.ts'

/** A polyp with its size known exactly, removed in one piece and read by a pathologist, unless it says otherwise. */
export interface Found extends Partial<Polyp> {
  readonly mm: number
}

const polypOf = ({ mm, ...more }: Found): Polyp => ({
  sizeMillimetres: mm,
  sizeAtLeastMillimetres: mm,
  sizeAtMostMillimetres: mm,
  handling: 'removed',
  resection: 'en-bloc',
  retrieval: 'retrieved',
  shape: 'sessile',
  site: 'transverse',
  ...more,
})

export const tubular = (mm: number, more: Partial<Polyp> = {}): Found => ({
  mm,
  histology: 'conventional-adenoma',
  villous: false,
  dysplasia: 'low-grade',
  ...more,
})
export const sessileSerrated = (mm: number, more: Partial<Polyp> = {}): Found => ({
  mm,
  histology: 'sessile-serrated-lesion',
  dysplasia: 'none',
  ...more,
})
export const hyperplastic = (mm: number, more: Partial<Polyp> = {}): Found => ({
  mm,
  histology: 'hyperplastic',
  ...more,
})
export const times = (count: number, one: Found): Found[] => Array.from({ length: count }, () => one)

/** True with one, unknown where none is known to be and any is not told, else false. */
function any(polyps: readonly Polyp[], has: (one: Polyp) => boolean | undefined): boolean | undefined {
  const told = polyps.filter(({ histology }) => histology === 'conventional-adenoma').map(has)
  return told.includes(true) ? true : told.includes(undefined) ? undefined : false
}

/**
 * The record of a complete and well prepared screening colonoscopy of a woman of 60, all of whose polyps were removed and read,
 * as linkage makes it: counts of classes agree with the list.
 */
export function examined(found: readonly Found[], more: Partial<Colonoscopy> = {}): Colonoscopy {
  const polyps = found.map(polypOf)
  const countOf = (histology: Polyp['histology']) => polyps.filter((polyp) => polyp.histology === histology).length
  return {
    procedure: 'Procedure/1',
    source: 'northmoor',
    age: 60,
    sex: 'female',
    referralReason: 'screening',
    referredForKnownLesion: false,
    intent: 'complete',
    report: 'final',
    completion: 'completed',
    caecumReached: true,
    completionPhotographed: true,
    preparationScale: 'boston',
    segmentsAllAtLeast2: true,
    stoppedForPreparation: false,
    inflammatoryBowelDisease: false,
    inflammatoryBowelDiseaseSeen: false,
    hereditarySyndrome: false,
    serratedPolyposis: false,
    earlierColorectalCancer: false,
    earlierAdenoma: false,
    familyHistoryOfColorectalCancer: false,
    knownLesionCount: 0,
    polypCount: polyps.length,
    polyps,
    polypsWithoutObtainableHistology: 0,
    tissueTakenOrTreated: polyps.length > 0,
    pathology: polyps.length > 0 ? 'final' : 'not-sent',
    adenomaFound: countOf('conventional-adenoma') > 0,
    adenomaCount: countOf('conventional-adenoma'),
    traditionalSerratedCount: countOf('traditional-serrated-adenoma'),
    sessileSerratedCount: countOf('sessile-serrated-lesion'),
    hyperplasticCount: countOf('hyperplastic'),
    cancerCount: countOf('cancer'),
    otherHistologyCount: countOf('other'),
    villousAdenomaFound: any(polyps, ({ villous }) => villous),
    highGradeDysplasiaFound: any(polyps, ({ dysplasia }) => dysplasia && dysplasia === 'high-grade'),
    adviceAfterPathology: true,
    ...more,
  }
}

/** Advice as the record holds it: so many months, or none further. */
export const advised = (months: number | 'none'): Partial<Colonoscopy> =>
  months === 'none'
    ? { advice: 'no-further-colonoscopy' }
    : { advice: 'repeat-colonoscopy', advisedIntervalMonths: months }
