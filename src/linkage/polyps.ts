import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { millimetresOf } from '../fhir/quantity.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Polyp } from './colonoscopy.ts'
import type { Examination, Told } from './examinations.ts'
import { bowelSites, polypFields } from './fields.ts'

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

interface Lesion extends FoundPolyp {
  readonly partOf: readonly string[]
  readonly isKnown: boolean
  named: boolean
}

/** Polyps of one examination: observations and conditions that tell of one, joined with the polypectomies that took them. */
export function findPolyps(examination: Examination, codes: Codes): PolypFindings {
  const lesions: Lesion[] = []
  const tell = ({ resource }: Told) => lesions.push(readLesion(resource, codes))
  for (const observation of examination.observations.polyp) tell(observation)
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
  const [told, ...more] = observations['polyp-size']
  const size = told && more.length === 0 ? millimetresOf(told.resource) : undefined
  if (size !== undefined) polyp.sizeMillimetres ??= size
}

/** One lesion with its components. One that is said to have been known before is never counted as new. */
function readLesion(resource: Json, codes: Codes): Lesion {
  const polyp: Polyp = {}
  let isKnown = false
  for (const one of asObjects(resource.bodySite)) {
    const site = codes.word(one, 'bowel-site')
    if (isWord(site, bowelSites)) polyp.site ??= site
  }
  for (const component of asObjects(resource.component)) {
    const { fact, sets } = codes.of(component.code)
    if (sets.has('polyp-size')) polyp.sizeMillimetres = millimetresOf(component) ?? polyp.sizeMillimetres
    else if (fact === 'known-lesion-seen-again') isKnown ||= component.valueBoolean === true
    else if (fact === 'polyp-handling' || fact === 'polyp-retrieval') {
      const value = codes.fact(component.valueCodeableConcept)
      if (fact === 'polyp-handling' && isWord(value, polypFields.handling.values)) polyp.handling = value
      if (fact === 'polyp-retrieval' && isWord(value, polypFields.retrieval.values)) polyp.retrieval = value
    }
  }
  return {
    key: ownKey(resource),
    specimen: referenceKey(resource.specimen),
    polyp,
    partOf: keysAt([resource], 'partOf'),
    isKnown,
    named: false,
  }
}

/** Whether a polyp can still yield histology: not where it was left, lost or discarded. */
export const canHaveHistology = ({ handling, retrieval }: Polyp): boolean =>
  handling !== 'left' && retrieval !== 'not-retrieved' && retrieval !== 'discarded-under-protocol'

export function isWord<Word extends string>(value: string | undefined, words: readonly Word[]): value is Word {
  return value !== undefined && (words as readonly string[]).includes(value)
}
