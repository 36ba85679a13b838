import { daysBetween } from '../fhir/dates.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Examination } from './examinations.ts'
import type { HistologyClass, Reading } from './histology.ts'
import { canHaveHistology, type PolypFindings } from './polyps.ts'

type PathologyFacts = Pick<
  Colonoscopy,
  | 'pathology'
  | 'adenomaFound'
  | 'adenomaCount'
  | 'adenomaCountLower'
  | 'adenomaCountUpper'
  | 'traditionalSerratedCount'
  | 'sessileSerratedCount'
  | 'hyperplasticCount'
  | 'cancerCount'
  | 'otherHistologyCount'
>

export interface PathologyContext {
  /** Civil date of the as-of instant in the unit's zone. */
  readonly asOfDate: string
  readonly lagDays: number
  /** The source sends every pathology report and specimen. */
  readonly feedComplete: boolean
  /** Polyps newly found, where that is recorded. */
  readonly polypCount: number | undefined
}

const polypClasses: readonly HistologyClass[] = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
]

/** Polyps that pathology alone tells of, where nothing at endoscopy did. */
export const polypsInPathology = (readings: readonly Reading[]): number =>
  readings.flatMap(({ classes }) => classes).filter((one) => polypClasses.includes(one)).length

/**
 * State of all pathology of an examination, and its counts. *Pending* while anything sent may still come within the lag,
 * *missing* after it. A count is given only when nothing sent is outstanding; the bounds hold always.
 * Each polyp's histology class is filled in on the way.
 */
export function pathologyFacts(
  examination: Examination,
  { polyps }: PolypFindings,
  { readings, openReports }: { readings: readonly Reading[]; openReports: number },
  context: PathologyContext,
): PathologyFacts {
  const counts: Record<HistologyClass, number> = {
    'conventional-adenoma': 0,
    'traditional-serrated-adenoma': 0,
    'sessile-serrated-lesion': 0,
    hyperplastic: 0,
    cancer: 0,
    other: 0,
  }
  let readPolyps = 0
  for (const { specimens, classes } of readings) {
    const covered = polyps.filter(({ specimen }) => specimen !== undefined && specimens.includes(specimen))
    const [only] = classes
    if (only !== undefined && classes.length === 1) {
      counts[only] += Math.max(1, covered.length)
      for (const { polyp } of covered) polyp.histology = only
    } else for (const one of classes) counts[one]++
    if (classes.length > 0) readPolyps += covered.length
  }
  // Readings that no polyp's pot leads to. One without a pot may be of any polyp, whatever it found; one with a pot of its own
  // and nothing but normal tissue is a random biopsy.
  const unlinkedReadings = readings.filter(
    ({ specimens, classes }) =>
      classes.some((one) => one !== 'other' || specimens.length === 0) &&
      !polyps.some(({ specimen }) => specimen !== undefined && specimens.includes(specimen)),
  ).length

  const isRead = (key: string) => readings.some(({ specimens }) => specimens.includes(key))
  const withoutSpecimen = readings.filter(({ specimens }) => specimens.length === 0).length
  const silentSpecimens = examination.specimens.filter((key) => !isRead(key)).length
  const unnamedPolyps = polyps.filter(
    ({ specimen, polyp }) => specimen === undefined && canHaveHistology(polyp) && polyp.handling !== undefined,
  )
  const expectedPolyps = context.feedComplete ? unnamedPolyps.length : 0
  // A report linked by encounter names neither specimen nor polyp: its results stand for as many as there are.
  const spare = Math.max(0, withoutSpecimen - silentSpecimens)
  const outstanding =
    Math.max(0, silentSpecimens - withoutSpecimen) + Math.max(0, expectedPolyps - spare - loose(readings, polyps))
  const unknownPolyps = polyps.filter(
    ({ specimen, polyp }) => specimen === undefined && canHaveHistology(polyp) && polyp.handling === undefined,
  ).length

  const state = ((): Colonoscopy['pathology'] => {
    if (outstanding > 0 || openReports > 0)
      return daysBetween(examination.date, context.asOfDate) <= context.lagDays ? 'pending' : 'missing'
    if (readings.some(({ classes }) => classes.length === 0)) return 'unreadable'
    if (readings.length > 0) return 'final'
    const nothingSent =
      context.polypCount !== undefined && unknownPolyps === 0 && polyps.every(({ polyp }) => !canHaveHistology(polyp))
    return nothingSent && (context.feedComplete || polyps.length > 0) ? 'not-sent' : undefined
  })()

  const adenomas = counts['conventional-adenoma']
  const settled = state === 'final' || state === 'not-sent'
  // A polyp that was taken without a word on histology, or of which nothing is said, may be anything.
  const unreadPolyps = polyps.filter(({ polyp }) => canHaveHistology(polyp)).length - readPolyps - unlinkedReadings
  const noneOpen = settled && unreadPolyps <= 0
  const noPolyp = context.polypCount === 0 && state === undefined
  const decided = noneOpen || noPolyp
  const found = adenomas > 0 ? true : decided ? false : undefined
  const upper =
    context.polypCount === undefined
      ? undefined
      : Math.max(
          adenomas,
          adenomas + context.polypCount - readPolyps - Math.min(unlinkedReadings, context.polypCount - readPolyps),
        )

  const only = (count: number): number | undefined => (decided ? count : undefined)
  return {
    pathology: state,
    adenomaFound: found,
    adenomaCount: only(adenomas),
    traditionalSerratedCount: only(counts['traditional-serrated-adenoma']),
    sessileSerratedCount: only(counts['sessile-serrated-lesion']),
    hyperplasticCount: only(counts.hyperplastic),
    cancerCount: only(counts.cancer),
    otherHistologyCount: only(counts.other),
    adenomaCountLower: upper === undefined ? undefined : adenomas,
    adenomaCountUpper: upper,
  }
}

/** Readings that name a specimen no polyp names: they may be of polyps told without one. */
function loose(readings: readonly Reading[], polyps: PolypFindings['polyps']): number {
  const isNamed = (key: string) => polyps.some(({ specimen }) => specimen === key)
  return readings.filter(({ specimens }) => specimens.length > 0 && !specimens.some(isNamed)).length
}
