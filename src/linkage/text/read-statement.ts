import { reservationOf, reservationsIn } from './assertion.ts'
import { countBeside, countOfPolyps } from './counts.ts'
import { type DiagnosisWord, diagnosisWordsIn } from './diagnosis-words.ts'
import type { Named } from './named.ts'
import { addDetail, type Detail, gather, type Said } from './said.ts'
import { organsIn, sitesIn } from './sites.ts'
import { sizesIn } from './sizes.ts'
import type { BowelSite, HistologyClass } from './text-findings.ts'

export interface StatementFindings {
  readonly said: readonly Said[]
  /** For the diagnosis of an earlier statement. */
  readonly detail: Detail
  /** It says that there is no adenoma, dysplasia or neoplasia. */
  readonly excludes: boolean
  /** Lesions that it names and neither states nor denies. */
  readonly doubted: readonly HistologyClass[]
  /** Some diagnosis that it names is of another organ. */
  readonly isElsewhere: boolean
  /** All that it names is denied. */
  readonly onlyDenies: boolean
}

const nothingNamed: StatementFindings = {
  ...{ said: [], detail: {}, excludes: false, doubted: [], isElsewhere: false, onlyDenies: false },
}

/**
 * Diagnoses that one statement states as present, with what it says of each.
 *
 * @param organ of the heading that the statement stands under: an organ that the statement names itself goes before it
 */
export function readStatement(statement: string, organ: 'bowel' | 'elsewhere' | undefined): StatementFindings {
  const words = diagnosisWordsIn(statement)
  if (words.length === 0) return nothingNamed
  const reservations = reservationsIn(statement)
  const organs = organsIn(statement)
  const places: Named<Said>[] = []
  const details: Named<DiagnosisWord>[] = []
  const detail: Detail = {}
  const doubted: HistologyClass[] = []
  let excludes = false
  let isElsewhere = false
  let onlyDenies = true
  for (const word of words) {
    const { what } = word
    if (organAt(word, organs, organ) === 'elsewhere') {
      isElsewhere = true
      continue
    }
    const reservation = reservationOf(word, reservations)
    if (reservation === 'denied') {
      if (isExclusion(what) && !/\bmargins?\b/.test(statement)) excludes = true
      if (what.kind === 'villous-part' || what.kind === 'dysplasia') details.push(word)
    } else onlyDenies = false
    if (what.kind === 'lesion' && reservation === 'doubtful') doubted.push(what.histology)
    if (reservation !== undefined || what.kind === 'neoplasia') continue
    if (what.kind !== 'lesion') details.push(word)
    else if (isAlternative(word, words, statement)) doubted.push(what.histology)
    else places.push({ ...word, what: saidOf(word, what, words, statement) })
  }
  const sites = new Map<Said, Set<BowelSite>>()
  for (const { what, ...place } of sitesIn(statement)) {
    const target = nearest(place, places, statement)
    if (target) sites.set(target, (sites.get(target) ?? new Set()).add(what))
  }
  // Several sites leave it open which lesion lay where.
  for (const [target, [site, ...others]] of sites) if (site !== undefined && others.length === 0) target.site = site
  for (const { what, ...place } of sizesIn(statement)) {
    const target = nearest(place, places, statement)
    if (target) target.sizeMillimetres = Math.max(target.sizeMillimetres ?? 0, what)
  }
  for (const word of details) {
    const isDenied = reservationOf(word, reservations) === 'denied'
    const target = nearest(
      word,
      places.filter(({ what }) => takesDetail(what, word.what)),
      statement,
    )
    if (target) addDetail(target, word.what, isDenied)
    else gather(detail, word.what, isDenied)
  }
  return { said: places.map(({ what }) => what), detail, excludes, doubted, isElsewhere, onlyDenies }
}

function saidOf(
  word: Named<DiagnosisWord>,
  what: DiagnosisWord & { kind: 'lesion' },
  words: readonly Named<DiagnosisWord>[],
  statement: string,
): Said {
  const lesions = words.filter((word) => word.what.kind === 'lesion')
  const place = lesions.indexOf(word)
  const from = word.from
  const gapBefore = statement.slice(lesions[place - 1]?.to ?? 0, from)
  const gapAfter = statement.slice(word.to, lesions[place + 1]?.from ?? statement.length)
  const count = countBeside(gapBefore, gapAfter) ?? (what.plural ? countOfPolyps(gapBefore) : undefined)
  return {
    histology: what.histology,
    again: /\b(?:the|this|these|all) (?:[a-z0-9-]+ ){0,2}$/.test(gapBefore.slice(-40)),
    plural: what.plural === true,
    fragments: /\b(?:fragments?|pieces?)\b/.test(gapBefore),
    ...(what.villous === undefined ? {} : { villous: what.villous }),
    ...(count === undefined ? {} : { count }),
  }
}

function isExclusion(what: DiagnosisWord): boolean {
  if (what.kind === 'lesion') return what.histology === 'conventional-adenoma'
  return what.kind === 'neoplasia' || (what.kind === 'dysplasia' && what.named && what.grade === undefined)
}

/** "A or B": neither is stated. */
function isAlternative(word: Named<DiagnosisWord>, words: readonly Named<DiagnosisWord>[], statement: string): boolean {
  const lesions = words.filter(({ what }) => what.kind === 'lesion')
  const place = lesions.indexOf(word)
  const gap = (one: number, other: number) => statement.slice(lesions[one]?.to ?? 0, lesions[other]?.from ?? 0)
  return (
    (place > 0 && gap(place - 1, place) === ' or ') || (place < lesions.length - 1 && gap(place, place + 1) === ' or ')
  )
}

function takesDetail(said: Said, what: DiagnosisWord): boolean {
  return what.kind === 'villous-part' ? said.histology === 'conventional-adenoma' : said.histology !== 'cancer'
}

/**
 * The diagnosis that a detail belongs to: the one it stands right before, else the one before it, else the next.
 */
function nearest(
  place: { readonly from: number; readonly to: number },
  all: readonly Named<Said>[],
  statement: string,
): Said | undefined {
  const after = all.find(({ from }) => from >= place.to)
  const before = all.findLast(({ to }) => to <= place.from)
  if (after && before && /^ (?:[a-z-]+ ){0,2}$/.test(statement.slice(place.to, after.from))) {
    // "… and a 3 mm polyp": unless what lies between ends the one thing and begins another.
    if (!/\b(?:and|with)\b/.test(statement.slice(place.to, after.from))) return after.what
  }
  return (before ?? after)?.what
}

function organAt(
  word: Named<unknown>,
  organs: readonly Named<'bowel' | 'elsewhere'>[],
  ofHeading: 'bowel' | 'elsewhere' | undefined,
): 'bowel' | 'elsewhere' | undefined {
  const before = organs.findLast(({ from }) => from < word.to)
  return before?.what ?? ofHeading ?? organs[0]?.what
}
