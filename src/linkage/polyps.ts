import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { millimetresOf } from '../fhir/quantity.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { Polyp } from './colonoscopy.ts'
import type { Examination } from './examinations.ts'
import { bowelSites } from './fields.ts'

/** A polyp with what is needed to find its histology. */
export interface FoundPolyp {
  readonly key: string | undefined
  readonly specimen: string | undefined
  readonly polyp: Polyp
}

export interface PolypFindings {
  readonly polyps: readonly FoundPolyp[]
  /** Polypectomies that name no polyp, beyond the polyps that could be meant. */
  readonly unnamedRemovals: number
}

type Handling = NonNullable<Polyp['handling']>
type Retrieval = NonNullable<Polyp['retrieval']>
const handlings: readonly string[] = ['removed', 'biopsied', 'left'] satisfies Handling[]
const retrievals: readonly string[] = ['retrieved', 'not-retrieved', 'discarded-under-protocol'] satisfies Retrieval[]

/** Polyps of one examination: observations and conditions that tell of one, joined with the polypectomies that took them. */
export function findPolyps(examination: Examination, codes: Codes): PolypFindings {
  const lesions = [
    ...examination.observations.filter(({ code }) => code.sets.has('polyp-finding')),
    ...examination.conditions,
  ]
  const told = lesions.filter(({ resource }) => !isKnownBefore(resource, codes))
  const found = told.map(({ resource }) => ({
    key: ownKey(resource),
    specimen: referenceKey(resource.specimen),
    polyp: readPolyp(resource, codes),
    parts: asObjects(resource.partOf).map(referenceKey),
  }))

  let unnamedRemovals = 0
  for (const { resource: child, code } of examination.children) {
    if (!code.sets.has('polypectomy')) continue
    const reasons = asObjects(child.reasonReference).map(referenceKey)
    const childKey = ownKey(child)
    const meant = found.filter(
      ({ key, parts }) => (key !== undefined && reasons.includes(key)) || parts.includes(childKey),
    )
    for (const { polyp } of meant) polyp.handling ??= 'removed'
    if (meant.length === 0) unnamedRemovals++
  }
  // As many unnamed polypectomies as polyps nobody said anything about: those were taken.
  const open = found.filter(({ polyp }) => polyp.handling === undefined)
  if (unnamedRemovals >= open.length) {
    for (const { polyp } of open) polyp.handling = 'removed'
    unnamedRemovals -= open.length
  }
  for (const one of found) if (one.specimen !== undefined) one.polyp.retrieval ??= 'retrieved'
  if (lesions.length === 1 && unnamedRemovals === 0) for (const { polyp } of found) sizeToldApart(polyp, examination)
  return { polyps: found, unnamedRemovals }
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
