import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { wholeNumberOf } from '../fhir/quantity.ts'
import { keysAt, ownKey } from '../fhir/references.ts'
import { type BowelPart, bowelParts, mayBeOneOrigin, type Origin, originOf, originsOf } from './bowel-part.ts'
import type { Examination } from './examinations.ts'
import type { FoundPolyp } from './polyp.ts'
import { canHaveHistology, type PolypFindings } from './polyps.ts'
import type { Reading, Told } from './reading.ts'
import { mostBiopsies, numberFields } from './stated-biopsies.ts'

/** Tissue of one origin that is of the mucosa, or may be. */
interface Taken {
  readonly origin: Origin | undefined
  /** It is of the mucosa: no polyp can be what was taken. */
  readonly isCertain: boolean
}

interface Pot extends Taken {
  readonly resource: Json
  /** Number of pieces; absent where none is told. */
  readonly count: number | undefined
}

interface Act extends Taken {
  readonly told: Told
}

/** What pots and biopsy procedures tell of the biopsies of one part. */
export interface SentBiopsies {
  readonly atLeast: number
  /** Absent where their number, or whether there were any, is open. */
  readonly exact: number | undefined
  /** Pots, and procedures, that are of the mucosa of the part. */
  readonly pots: readonly Pot[]
  readonly acts: readonly Told[]
}

/** What is needed to tell biopsies of the mucosa from tissue of lesions. */
export interface BiopsyContext {
  readonly findings: PolypFindings
  /** Pots in which pathology finds a lesion. */
  readonly lesionPots: ReadonlySet<string>
  /** Every polyp is told: the source sends them all, and the report is not preliminary. */
  readonly isPolypsTold: boolean
  /** Some observation states that there were biopsies. */
  readonly isStated: boolean
}

const nothingKnown: SentBiopsies = { atLeast: 0, exact: undefined, pots: [], acts: [] }
const noneTaken: SentBiopsies = { ...nothingKnown, exact: 0 }

/**
 * Biopsies of the mucosa by part of the bowel, as pots and biopsy procedures tell of them, found by elimination: where every polyp
 * is told, what no polyp can have come from is of the mucosa. A pot tells how many by its quantity; a procedure only that
 * there was one.
 */
export function sentBiopsies(
  examination: Examination,
  context: BiopsyContext,
  reading: Reading,
): Readonly<Record<BowelPart, SentBiopsies>> {
  if (!context.isPolypsTold) return { right: nothingKnown, left: nothingKnown, rectum: nothingKnown }
  if (examination.specimens.length + examination.children.length === 0 && !isBiopsyByCode(examination, context))
    return { right: noneTaken, left: noneTaken, rectum: noneTaken }
  const pots = potsOfMucosa(examination, context, reading)
  const acts = actsOnMucosa(examination, context, reading)
  // A procedure that does not say where is that of which the pots, or numbers, are.
  const isExplained = context.isStated || pots.some(({ isCertain }) => isCertain)
  const isUnplaced =
    pots.some(({ origin }) => origin === undefined) ||
    acts.some(({ origin, isCertain }) => origin === undefined && !(isCertain && isExplained)) ||
    (!isExplained && acts.length === 0 && isBiopsyByCode(examination, context))
  const ofPart = (part: BowelPart): SentBiopsies => {
    const here = pots.filter(({ origin, isCertain }) => origin === part && isCertain)
    const done = acts.filter(({ origin, isCertain }) => origin === part && isCertain).map(({ told }) => told)
    const mayBeMore = [...pots, ...acts].some(({ origin, isCertain }) => origin === part && !isCertain)
    const isCounted = here.every(({ count }) => count !== undefined) && (done.length === 0 || here.length > 0)
    const sum = here.reduce((total, { count = 1 }) => total + count, 0)
    return {
      atLeast: Math.max(sum, done.length > 0 ? 1 : 0),
      exact: isUnplaced || mayBeMore || !isCounted ? undefined : sum,
      pots: here,
      acts: done,
    }
  }
  return { right: ofPart('right'), left: ofPart('left'), rectum: ofPart('rectum') }
}

/** Pots that no lesion names. A pot is certain where no lesion that was taken without a pot can lie in it. */
function potsOfMucosa(examination: Examination, context: BiopsyContext, reading: Reading): readonly Pot[] {
  const { findings, lesionPots } = context
  const { specimens, trail, patient } = examination
  const lesions = [...findings.polyps, ...findings.known]
  const without = lesions.filter(({ specimen, polyp }) => specimen === undefined && canHaveHistology(polyp))
  const isAnyOpen = findings.unnamedRemovals + findings.impliedRemovals > 0
  return specimens.flatMap((key): Pot[] => {
    if (lesions.some(({ specimen }) => specimen === key)) return []
    const resource = reading.resources.at(key)
    if (resource === undefined) return [{ origin: undefined, isCertain: false, resource: {}, count: undefined }]
    // What a laboratory made of the contents of another pot is no tissue of its own.
    if (keysAt([resource], 'parent').some((one) => specimens.includes(one))) return []
    const { bodySite } = asObject(resource.collection) ?? {}
    const [origin] = originsOf(bodySite, reading.codes)
    const mayBeLesion =
      isAnyOpen || lesionPots.has(key) || without.some(({ polyp }) => mayBeOneOrigin(origin, originOf(polyp.site)))
    if (mayBeLesion) return [{ origin, isCertain: false, resource, count: undefined }]
    const count = piecesIn(resource)
    for (const part of bowelParts)
      if (count === 'unreadable' && mayBeOneOrigin(origin, part))
        trail?.cannotRead(numberFields[part], resource, 'Specimen.collection.quantity')
    if (origin === undefined)
      reading.survey?.missed('Specimen.collection.bodySite (part of the bowel)', bodySite, patient)
    return [{ origin, isCertain: true, resource, count: count === 'unreadable' ? undefined : count }]
  })
}

/** Number of pieces in a pot. A quantity in another unit is how large they are, or how much fluid there is. */
function piecesIn({ collection }: Json): number | 'unreadable' | undefined {
  const quantity = asObject(collection)?.quantity
  if (quantity === undefined) return undefined
  const number = wholeNumberOf({ valueQuantity: quantity })
  return typeof number === 'number' && number >= 1 && number <= mostBiopsies ? number : 'unreadable'
}

/** Biopsy procedures that no lesion names or is named by, beyond those that the lesions biopsied without one account for. */
function actsOnMucosa(
  { children, patient }: Examination,
  { findings }: BiopsyContext,
  { codes, survey }: Reading,
): readonly Act[] {
  const lesions = [...findings.polyps, ...findings.known]
  const biopsies = children.filter(isBiopsy)
  const named = new Set(lesions.filter((lesion) => biopsies.some((told) => isOf(told, lesion))))
  const spare = lesions.filter((lesion) => !named.has(lesion))
  const acts: Act[] = []
  for (const told of biopsies) {
    if (lesions.some((lesion) => isOf(told, lesion))) continue
    const certain = told.code.sets.has('biopsy')
    const { bodySite } = told.resource
    for (const site of asObjects(bodySite))
      if (originOf(codes.word(site, 'bowel-site')) === undefined)
        survey?.missed('Procedure.bodySite (biopsy)', site, patient)
    for (const origin of originsOf(bodySite, codes)) {
      const meant = spare.findIndex(
        ({ polyp }) =>
          mayBeOneOrigin(origin, originOf(polyp.site)) &&
          (polyp.handling === 'biopsied' || (!certain && polyp.handling === 'removed')),
      )
      if (meant >= 0) {
        spare.splice(meant, 1)
        continue
      }
      const mayBeLesion = spare.some(
        ({ polyp }) => polyp.handling === undefined && mayBeOneOrigin(origin, originOf(polyp.site)),
      )
      acts.push({ told, origin, isCertain: certain && !mayBeLesion })
    }
  }
  return acts
}

/** What is a biopsy by its code, or may be: some codes do not tell it from other treatment. */
const isBiopsy = ({ code: { sets, fact } }: Pick<Told, 'code'>): boolean =>
  sets.has('biopsy') ||
  (sets.has('tissue-taken-or-treated') &&
    !sets.has('tattoo') &&
    !sets.has('polypectomy') &&
    fact !== 'injection' &&
    fact !== 'treatment')

/** Whether the code of the examination itself tells of a biopsy, or may, that no lesion accounts for. */
const isBiopsyByCode = ({ codes }: Examination, { findings: { polyps, known } }: BiopsyContext): boolean =>
  codes.some((code) => isBiopsy({ code })) &&
  ![...polyps, ...known].some(({ polyp }) => polyp.handling === 'biopsied' || polyp.handling === 'removed')

/** Whether a procedure names a lesion as its reason or as what it is part of, or is named by it as what it is part of. */
function isOf({ resource }: Told, { keys, resource: lesion }: FoundPolyp): boolean {
  const named = [...keysAt([resource], 'reasonReference'), ...keysAt([resource], 'partOf')]
  return keys.some((key) => named.includes(key)) || keysAt([lesion], 'partOf').includes(ownKey(resource) ?? '')
}
