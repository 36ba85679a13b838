import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { millimetresOf } from '../fhir/quantity.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Polyp } from './colonoscopy.ts'
import type { Examination, Told } from './examinations.ts'
import { bowelSites } from './fields.ts'

/** A polyp with what is needed to find its histology. */
export interface FoundPolyp {
  readonly key: string | undefined
  readonly specimen: string | undefined
  readonly polyp: Polyp
}

export interface PolypFindings {
  /** Polyps newly found. */
  readonly polyps: readonly FoundPolyp[]
  /** Lesions known before: never counted as new, but what was done to them was done. */
  readonly known: readonly FoundPolyp[]
  /** Pots that hold nothing but lesions known before. */
  readonly knownPots: readonly string[]
  /** Polypectomies beyond the polyps that they could have taken. */
  readonly unnamedRemovals: number
  /** 1 where the examination's own code says that a polyp was removed, and nothing tells of one. */
  readonly impliedRemovals: number
}

export const noFindings: PolypFindings = {
  polyps: [],
  known: [],
  knownPots: [],
  unnamedRemovals: 0,
  impliedRemovals: 0,
}

type Handling = NonNullable<Polyp['handling']>
type Retrieval = NonNullable<Polyp['retrieval']>
const handlings: readonly string[] = ['removed', 'biopsied', 'left'] satisfies Handling[]
const retrievals: readonly string[] = ['retrieved', 'not-retrieved', 'discarded-under-protocol'] satisfies Retrieval[]

interface Lesion extends FoundPolyp {
  readonly partOf: readonly string[]
  readonly isKnown: boolean
  named: boolean
}

/** Polyps of one examination: observations and conditions that tell of one, joined with the polypectomies that took them. */
export function findPolyps(examination: Examination, codes: Codes): PolypFindings {
  const lesions: Lesion[] = []
  const tell = ({ resource }: Told) =>
    lesions.push({
      key: ownKey(resource),
      specimen: referenceKey(resource.specimen),
      polyp: readPolyp(resource, codes),
      partOf: keysAt([resource], 'partOf'),
      isKnown: isKnownBefore(resource, codes),
      named: false,
    })
  for (const observation of examination.observations) if (observation.code.sets.has('polyp-finding')) tell(observation)
  for (const condition of examination.conditions) tell(condition)

  let unnamed = 0
  for (const { resource, code } of examination.children) {
    if (!code.sets.has('polypectomy')) continue
    const reasons = keysAt([resource], 'reasonReference')
    const own = ownKey(resource) ?? ''
    const meant = lesions.filter(
      ({ key, partOf }) => (key !== undefined && reasons.includes(key)) || partOf.includes(own),
    )
    for (const lesion of meant) {
      lesion.polyp.handling ??= 'removed'
      lesion.named = true
    }
    if (meant.length === 0) unnamed++
  }
  // Polypectomies that name none took first those polyps that were removed and that no polypectomy names, then, where
  // there are enough of them, all of which nothing is said.
  const removed = lesions.filter(({ polyp, named }) => polyp.handling === 'removed' && !named).length
  let left = Math.max(0, unnamed - removed)
  const open = lesions.filter(({ polyp }) => polyp.handling === undefined)
  if (left >= open.length) {
    for (const { polyp } of open) polyp.handling = 'removed'
    left -= open.length
  }
  for (const { specimen, polyp } of lesions) if (specimen !== undefined) polyp.retrieval ??= 'retrieved'
  const [only] = lesions
  if (only && lesions.length === 1 && left === 0) sizeToldApart(only.polyp, examination)

  const polyps = lesions.filter(({ isKnown }) => !isKnown)
  const known = lesions.filter(({ isKnown }) => isKnown)
  const shared = (pot: string) => polyps.some(({ specimen }) => specimen === pot)
  const isImplied =
    lesions.length === 0 && unnamed === 0 && examination.all.some(({ code }) => codes.in(code, 'polypectomy'))
  return {
    polyps,
    known,
    knownPots: known.flatMap(({ specimen }) => (specimen !== undefined && !shared(specimen) ? [specimen] : [])),
    unnamedRemovals: left,
    impliedRemovals: isImplied ? 1 : 0,
  }
}

/** A size in an observation of its own names no polyp: it is that of the only lesion, where there is only one size. */
function sizeToldApart(polyp: Polyp, { observations }: Examination): void {
  const sizes = observations.filter(({ code }) => code.sets.has('polyp-size')).map(({ resource }) => resource)
  const size = sizes[0] && sizes.length === 1 ? millimetresOf(sizes[0]) : undefined
  if (size !== undefined) polyp.sizeMillimetres ??= size
}

function readPolyp(resource: Json, codes: Codes): Polyp {
  const polyp: Polyp = {}
  const site = asObjects(resource.bodySite)
    .map((one) => codes.word(one, 'bowel-site'))
    .find((word) => word !== undefined)
  if (isWord(site, bowelSites)) polyp.site = site
  for (const component of asObjects(resource.component)) {
    const fact = codes.fact(component.code)
    const value = codes.fact(component.valueCodeableConcept)
    if (codes.in(component.code, 'polyp-size')) {
      const size = millimetresOf(component)
      if (size !== undefined) polyp.sizeMillimetres = size
    } else if (fact === 'polyp-handling' && value !== undefined && handlings.includes(value))
      polyp.handling = value as Handling
    else if (fact === 'polyp-retrieval' && value !== undefined && retrievals.includes(value))
      polyp.retrieval = value as Retrieval
  }
  return polyp
}

/** A lesion seen again is never counted as new. */
const isKnownBefore = (resource: Json, codes: Codes): boolean =>
  asObjects(resource.component).some(
    ({ code, valueBoolean }) => codes.fact(code) === 'known-lesion-seen-again' && valueBoolean === true,
  )

/** Whether a polyp can still yield histology: not where it was left, lost or discarded. */
export const canHaveHistology = ({ handling, retrieval }: Polyp): boolean =>
  handling !== 'left' && retrieval !== 'not-retrieved' && retrieval !== 'discarded-under-protocol'

export function isWord<Word extends string>(value: string | undefined, words: readonly Word[]): value is Word {
  return value !== undefined && (words as readonly string[]).includes(value)
}
