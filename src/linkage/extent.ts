import { absentReasons } from '../fhir/absent-reasons.ts'
import type { Codes } from '../fhir/codes.ts'
import { holdsValue } from '../fhir/holds-value.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { bowelSites, isWord } from '../record/words.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { type Reading, type Told, valueElementOf } from './reading.ts'
import { differ, isFinal, type Statement, stated } from './settle.ts'
import { listUnread } from './told-value.ts'

export type Site = (typeof bowelSites)[number]

/** How far an examination went, and what shows it. */
export interface Reach {
  readonly extent: Site | undefined
  readonly evidence: Colonoscopy['extentEvidence']
  /** What the extent rests on; absent without one. */
  readonly told: Told | undefined
  /** The extents that were stated, the end of the bowel or not. */
  readonly stated: readonly Site[]
  /** An extent was stated that cannot be read, or it may be another examination's: it may be anything. */
  readonly unread: boolean
  /** An anastomosis was stated or photographed beside another extent: it may have been the end of the bowel, or not. */
  readonly anastomosis: boolean
  /** Different landmarks photographed. */
  readonly landmarks: readonly string[]
  /** A landmark was photographed that cannot be read, or the photograph may be another examination's: there may be more. */
  readonly landmarkUnread: boolean
  /** Statement that the instrument was never inserted. */
  readonly notInserted: Json | undefined
  /** Shows that the ileum was entered. */
  readonly ileum: Told | undefined
}

/** Landmarks whose photograph proves a complete examination, and the site it proves. */
const provenBy: ReadonlyMap<string, Site> = new Map([
  ['appendix-orifice', 'caecum'],
  ['ileocaecal-valve', 'caecum'],
  ['caecum', 'caecum'],
  ['ileum', 'ileum'],
  ['anastomosis', 'anastomosis'],
])

/** Whether a photograph of a landmark proves a complete examination. */
export const provesCompletion = (landmark: string): boolean => provenBy.has(landmark)

const depth = (site: Site): number => bowelSites.indexOf(site)

/**
 * Deepest point reached: the deepest that is stated by a final observation (by any, where none is final), or that a photograph
 * proves, whichever is deeper. An anastomosis may lie anywhere: stated or photographed, it is the end of the bowel only where no
 * other extent is known.
 *
 * @param known the observations of the examination's course that are known by now
 */
export function readReach(known: readonly Told[], examination: Examination, reading: Reading): Reach {
  const { codes } = reading
  let landmarks: string[] | undefined
  let landmarkUnread = examination.openKinds.includes('photographs')
  let unread = examination.isCourseOpen
  let notInserted: Json | undefined
  let statements: Statement<Site>[] | undefined
  let photographs: Statement<Site>[] | undefined
  for (const told of known) {
    const { fact } = told.code
    if (fact === 'landmark-photograph') {
      if (wasNotTaken(told)) continue
      const landmark = siteIn(told, codes)
      const site = landmark === undefined ? undefined : provenBy.get(landmark)
      if (landmark === undefined || (site === undefined && !isWord(landmark, bowelSites))) {
        landmarkUnread = true
        listUnread('landmarkPhotographCount', told, examination, reading)
        continue
      }
      if (landmarks === undefined) landmarks = [landmark]
      else if (!landmarks.includes(landmark)) landmarks.push(landmark)
      photographs = stated(photographs, site, told)
      examination.trail?.note('landmarkPhotographCount', told.resource, told.rung, valueElementOf(told))
    } else if (fact === 'extent-reached' || (fact === undefined && told.code.sets.has('colonoscopy'))) {
      const site = siteIn(told, codes)
      if (site === 'not-inserted') notInserted ??= told.resource
      else if (isWord(site, bowelSites)) statements = stated(statements, site, told)
      else if (fact !== undefined || saysSomething(told, codes)) {
        unread ||= told.holder.dataAbsentReason === undefined || holdsValue(told.holder)
        listUnread('extent', told, examination, reading)
      }
    }
  }
  if (landmarks !== undefined) sawFeed(examination, 'photographs')
  const standing = statements?.some(({ told }) => isFinal(told.resource)) ? finalOnly(statements) : statements
  const saidEnd = standing?.find(isAnastomosis)
  const shownEnd = photographs?.find(isAnastomosis)
  let said = deepestSite(standing)
  let shown = deepestSite(photographs)
  const isElsewhere = said !== undefined || shown !== undefined
  if (!isElsewhere) {
    said = saidEnd
    shown = shownEnd
  }
  listConflicts(statements, said, shown, examination)
  const best = shown !== undefined && (said === undefined || depth(shown.value) >= depth(said.value)) ? shown : said
  const proven = best !== undefined && photographs?.some(({ value }) => value === best.value) === true
  return {
    extent: best?.value,
    evidence: best && (proven ? 'photograph' : 'stated'),
    told: best?.told,
    stated: statements?.map(({ value }) => value) ?? noSites,
    unread,
    anastomosis: isElsewhere && (saidEnd !== undefined || shownEnd !== undefined),
    landmarks: landmarks ?? noSites,
    landmarkUnread,
    notInserted,
    ileum: (photographs?.find(isIleum) ?? statements?.find(isIleum))?.told,
  }
}

const noSites: readonly never[] = []

const isAnastomosis = ({ value }: Statement<Site>): boolean => value === 'anastomosis'
const isIleum = ({ value }: Statement<Site>): boolean => value === 'ileum'

/** Site that is stated; a value beside a reason for having none cannot be relied on. */
const siteIn = ({ holder }: Told, codes: Codes): string | undefined =>
  holder.dataAbsentReason === undefined ? codes.word(holder.valueCodeableConcept, 'bowel-site') : undefined

const wasNotTaken = ({ holder }: Told): boolean =>
  holder.dataAbsentReason !== undefined && !holdsValue(holder) && absentReasons(holder).includes('not-performed')

/** Whether an observation of the colonoscopy has a value that may be a site: words, or a code that means nothing else here. */
function saysSomething({ holder }: Told, codes: Codes): boolean {
  const { sets, fact } = codes.of(holder.valueCodeableConcept)
  return holder.valueString !== undefined || (holder.valueCodeableConcept !== undefined && sets.size === 0 && !fact)
}

const finalOnly = (statements: readonly Statement<Site>[]): Statement<Site>[] =>
  statements.filter(({ told }) => isFinal(told.resource))

/** The deepest of some statements, the first where several are as deep; an anastomosis, which may lie anywhere, is left aside. */
function deepestSite(statements: readonly Statement<Site>[] | undefined): Statement<Site> | undefined {
  let best: Statement<Site> | undefined
  for (const one of statements ?? noSites)
    if (!isAnastomosis(one) && (best === undefined || depth(one.value) > depth(best.value))) best = one
  return best
}

function listConflicts(
  statements: readonly Statement<Site>[] | undefined,
  said: Statement<Site> | undefined,
  shown: Statement<Site> | undefined,
  { trail }: Examination,
): void {
  if (trail === undefined || statements === undefined) return
  if (differ(statements))
    trail.contradict('two different extents stated', ...statements.map(({ told }) => told.resource))
  if (said !== undefined && shown !== undefined && depth(shown.value) > depth(said.value))
    trail.contradict('photograph of a landmark beyond the stated extent', shown.told.resource, said.told.resource)
}
