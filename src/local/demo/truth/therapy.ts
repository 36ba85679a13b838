import type { TruthPolyp, TruthRow } from '../truth-row.ts'
import type { Tool } from '../truth-words.ts'
import { allOf, anyOf, type Definition, type Definitions, type Fact, opposite } from './definition.ts'
import { reaches, staysWithin } from './polyp-size.ts'
import { polypsFound, reasonIn, removedPolyp, tissueTaken } from './row-facts.ts'

type OfPolyp = (polyp: TruthPolyp) => Fact

/** Among the polyps that surely belong and whose outcome is told: those that have it, of all. */
function ofPolyps(
  eligible: Definition['eligible'],
  { belongs, has }: { readonly belongs: OfPolyp; readonly has: OfPolyp },
): Definition {
  const told = ({ polyps }: TruthRow) => polyps.filter((polyp) => belongs(polyp) === true && has(polyp) !== undefined)
  return { eligible, value: (row) => told(row).filter(has).length, over: (row) => told(row).length }
}

const removed: OfPolyp = ({ handling }) => (handling === undefined ? undefined : handling === 'removed')
const atRemoval: Definition['eligible'] = (row) => [removedPolyp(row)]
const atPolyps: Definition['eligible'] = (row) => [polypsFound(row)]

const retrieved: OfPolyp = ({ retrieval }) => (retrieval === undefined ? undefined : retrieval === 'retrieved')
const discarded: OfPolyp = ({ retrieval }) =>
  retrieval === undefined ? undefined : retrieval === 'discarded-under-protocol'

const retrieval = (eligible: Definition['eligible']) => ofPolyps(eligible, { belongs: removed, has: retrieved })
// Of a polyp of which nobody says what became of it nobody says either that it was thrown away on purpose.
const retrievalOfTheRest = (eligible: Definition['eligible']) =>
  ofPolyps(eligible, { belongs: (polyp) => allOf(removed(polyp), opposite(discarded(polyp) ?? false)), has: retrieved })

const takenWith =
  (...tools: readonly Tool[]): OfPolyp =>
  ({ tool }) =>
    tool === undefined ? undefined : tools.includes(tool)
const coldSnare = takenWith('cold-snare')
/** A snare, or what goes beyond one. */
const noForceps = takenWith('cold-snare', 'hot-snare', 'mucosal-resection', 'submucosal-dissection')

const notPedunculated: OfPolyp = ({ shape }) => (shape === undefined ? undefined : shape !== 'pedunculated')

const tattooed: OfPolyp = (polyp) => polyp.tattooed
/** In rectum and caecum a lesion is found again without one. */
const hardToFindAgain: OfPolyp = ({ site }) => site !== 'rectum' && site !== 'caecum'

/** Yes with one biopsy at least, no where there was none, or no tissue was taken at all. */
function biopsied(row: TruthRow, some: Fact, none: Fact): Fact {
  const nothing = none === true || tissueTaken(row) === false
  if (some === true) return nothing ? undefined : true
  return nothing ? false : undefined
}
const some = (atLeast: number | undefined): Fact => (atLeast === undefined ? undefined : atLeast > 0)
const none = (number: number | undefined): Fact => (number === undefined ? undefined : number === 0)

const forDiarrhoea: Definition['eligible'] = (row) => [row.chronicDiarrhoea]
const ofRectum = (row: TruthRow): Fact => biopsied(row, some(row.biopsiesRectumAtLeast), none(row.biopsiesRectum))
const ofBothSides = (row: TruthRow): Fact =>
  biopsied(
    row,
    allOf(some(row.biopsiesRightAtLeast), some(row.biopsiesLeftAtLeast)),
    anyOf(none(row.biopsiesRight), none(row.biopsiesLeft)),
  )
const ofAnywhere = (row: TruthRow): Fact =>
  biopsied(
    row,
    anyOf(some(row.biopsiesRightAtLeast), some(row.biopsiesLeftAtLeast), some(row.biopsiesRectumAtLeast)),
    allOf(none(row.biopsiesRight), none(row.biopsiesLeft), none(row.biopsiesRectum)),
  )

/** How many were left so; of none is it known while of one it is not. */
const leftBehind = (...how: readonly TruthPolyp['handling'][]): Definition => ({
  eligible: () => [],
  value: ({ polyps }) =>
    polyps.every(({ handling }) => handling !== undefined)
      ? polyps.filter(({ handling }) => how.includes(handling)).length
      : undefined,
})

const removableByEndoscope: OfPolyp = (polyp) =>
  polyp.shape === undefined
    ? undefined
    : polyp.shape === 'pedunculated' || allOf(polyp.shape === 'sessile', opposite(reaches(polyp, 20)))

/** Measures of therapy, by hand from the published definitions. */
export const therapyTruth: Definitions = {
  // Removed polyps whose tissue was recovered: UK 2016, EU 2017, and the UK programme after a positive test.
  'polyp-retrieval-rate-uk-2016': retrieval(atRemoval),
  'polyp-retrieval-rate-eu-2017': retrieval(atRemoval),
  'polyp-retrieval-rate-uk-screening-programme': retrieval(afterPositiveTest),
  'polyp-retrieval-rate-without-discarded-uk-2016': retrievalOfTheRest(atRemoval),
  'polyp-retrieval-rate-without-discarded-eu-2017': retrievalOfTheRest(atRemoval),
  'polyp-retrieval-rate-without-discarded-uk-screening-programme': retrievalOfTheRest(afterPositiveTest),
  // US 2024: 4 to 9 mm. The sibling has no lower bound.
  'cold-snare-rate-4-to-9-mm-us-2024': ofPolyps(atRemoval, {
    belongs: (polyp) => allOf(removed(polyp), reaches(polyp, 4), staysWithin(polyp, 9)),
    has: coldSnare,
  }),
  'cold-snare-rate-up-to-9-mm-descriptive': ofPolyps(atRemoval, {
    belongs: (polyp) => allOf(removed(polyp), staysWithin(polyp, 9)),
    has: coldSnare,
  }),
  // EU 2017: above 3 mm, pedunculated ones out.
  'snare-rather-than-forceps-rate-eu-2017': ofPolyps(atRemoval, {
    belongs: (polyp) => allOf(removed(polyp), notPedunculated(polyp), opposite(staysWithin(polyp, 3))),
    has: noForceps,
  }),
  'snare-rather-than-forceps-rate-from-5-mm-descriptive': ofPolyps(atRemoval, {
    belongs: (polyp) => allOf(removed(polyp), notPedunculated(polyp), reaches(polyp, 5)),
    has: noForceps,
  }),
  // UK 2016: 20 mm and more, or looking malignant, outside rectum and caecum.
  'tattoo-rate-uk-2016': ofPolyps(atPolyps, {
    belongs: (polyp) => allOf(hardToFindAgain(polyp), anyOf(reaches(polyp, 20), polyp.suspectedCancer)),
    has: tattooed,
  }),
  'tattoo-rate-20-mm-and-more-descriptive': ofPolyps(atPolyps, {
    belongs: (polyp) => allOf(hardToFindAgain(polyp), reaches(polyp, 20)),
    has: tattooed,
  }),
  // UK 2016: the rectum at the least; right and left colon as an aspiration. US 2015: anywhere.
  'diarrhoea-biopsy-rate-rectum-uk-2016': { eligible: forDiarrhoea, met: ofRectum },
  'diarrhoea-biopsy-rate-rectum-no-known-cause-uk-2016': {
    eligible: forDiarrhoea,
    excluded: (row) => anyOf(row.inflammatoryBowelDisease, row.inflammatoryBowelDiseaseSeen),
    met: ofRectum,
  },
  'diarrhoea-biopsy-rate-right-and-left-descriptive': { eligible: forDiarrhoea, met: ofBothSides },
  'diarrhoea-biopsy-rate-us-2015': { eligible: forDiarrhoea, met: ofAnywhere },
  'lesions-left-in-place-per-colonoscopy-descriptive': leftBehind('left', 'not-found-again'),
  'lesions-left-on-purpose-per-colonoscopy-descriptive': leftBehind('left'),
  'lesions-not-found-again-per-colonoscopy-descriptive': leftBehind('not-found-again'),
  // US 2015: pedunculated, or sessile and below 20 mm, and sent for surgery: tried here, or said to be beyond reach.
  'endoscopic-attempt-before-surgery-rate-us-2015': ofPolyps(atPolyps, {
    belongs: (polyp) => allOf(polyp.sentForSurgery, removableByEndoscope(polyp)),
    has: ({ removalAttempted, inaccessible }) => anyOf(removalAttempted, inaccessible),
  }),
}

function afterPositiveTest(row: TruthRow): readonly Fact[] {
  return [reasonIn('positive-screening-test')(row), removedPolyp(row)]
}
