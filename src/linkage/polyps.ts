import { isKnownBy } from '../fhir/dates.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { millimetresOf } from '../fhir/quantity.ts'
import { keysAt, ownKey } from '../fhir/references.ts'
import type { Polyp } from '../record/colonoscopy.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import { type FoundPolyp, type Lesion, readPolyp, restsOn, takeSize } from './polyp.ts'
import { judgeOutcome } from './polyp-outcome.ts'
import { sightingOf } from './polyp-sighting.ts'
import { polypSize } from './polyp-size.ts'
import { joinProcedures } from './polypectomies.ts'
import { elementOf, type Reading, type Told } from './reading.ts'
import { bySharedIdentifier } from './same-identifier.ts'
import { isFinal, outranks } from './settle.ts'

export interface PolypFindings {
  /** Polyps newly found. */
  readonly polyps: readonly FoundPolyp[]
  /** Lesions known before: never counted as new, but what was done to them was done. */
  readonly known: readonly FoundPolyp[]
  /** Pots that hold nothing but lesions known before. */
  readonly knownPots: readonly string[]
  /** Lesions known before of which tissue may have been taken, and of which no pot is told. */
  readonly knownWithoutPot: number
  /** Polypectomies beyond the polyps that they could have taken. */
  readonly unnamedRemovals: number
  /** 1 where the examination's own code says that a polyp was removed, and nothing tells of one. */
  readonly impliedRemovals: number
  /** Statements of which nobody can tell whether they are of polyps, or of how many. */
  readonly unreadSightings: number
}

export const noFindings: PolypFindings = {
  polyps: [],
  known: [],
  knownPots: [],
  knownWithoutPot: 0,
  unnamedRemovals: 0,
  impliedRemovals: 0,
  unreadSightings: 0,
}

/** Polyps of one examination: observations and conditions that tell of one, joined with the polypectomies that took them. */
export function findPolyps(examination: Examination, reading: Reading): PolypFindings {
  const { observations, conditions, children, trail } = examination
  const byCode = isPolypectomy(examination, reading)
  if (observations.polyp.length === 0 && conditions.length === 0 && children.length === 0)
    return byCode ? { ...noFindings, impliedRemovals: 1 } : noFindings

  const { lesions, unread } = observedLesions(examination, reading)
  // Beside a statement that nobody can read, silence about polyps means nothing.
  if (unread > 0 && !examination.openKinds.includes('polyps')) examination.openKinds.push('polyps')
  addConditions(lesions, examination, reading)
  const left = joinProcedures(lesions, examination, reading)
  addSizesToldApart(lesions, left, examination)
  for (const lesion of lesions) finish(lesion, examination)

  const polyps = lesions.filter(({ isKnown }) => !isKnown)
  const known = lesions.filter(({ isKnown }) => isKnown)
  if (trail)
    for (const { isKnown, told, polyp, evidence = [] } of lesions) {
      trail.note(isKnown ? 'knownLesionCount' : 'polypCount', told.resource, told.rung, elementOf(told, 'code'))
      if (isKnown) continue
      trail.note('polyps', told.resource, told.rung, elementOf(told, 'code'))
      for (const { name, resource, rung, element } of evidence)
        if (polyp[name] !== undefined) trail.note(`polyps.${name}`, resource, rung, element)
    }
  const shared = (pot: string) => polyps.some(({ specimen }) => specimen === pot)
  const isImplied = byCode && lesions.length === 0 && !children.some(({ code }) => code.sets.has('polypectomy'))
  return {
    polyps,
    known,
    knownPots: known.flatMap(({ specimen }) => (specimen !== undefined && !shared(specimen) ? [specimen] : [])),
    knownWithoutPot: known.filter(({ specimen, polyp }) => specimen === undefined && canHaveHistology(polyp)).length,
    unnamedRemovals: left,
    impliedRemovals: isImplied ? 1 : 0,
    unreadSightings: unread,
  }
}

/** Whether a polyp can still yield histology: not where it was left, not found again, lost or discarded. */
export const canHaveHistology = ({ handling, retrieval }: Polyp): boolean =>
  handling !== 'left' &&
  handling !== 'not-found-again' &&
  retrieval !== 'not-retrieved' &&
  retrieval !== 'discarded-under-protocol'

/** Observations that tell of polyps, as far as they are known, and of each the keys of what tells of the same polyp. */
interface Observed {
  readonly standing: readonly Told[]
  readonly restated: ReadonlyMap<Json, readonly string[]>
}

/**
 * An observation written down again, with the same identifier, is the same polyp: a final statement stands before one that is
 * not, then the later one, then that of the lower id.
 */
function observed({ observations, all, zone, trail }: Examination, asOf: number): Observed {
  const known = observations.polyp.filter(({ resource }) => isKnownYet(resource, asOf, zone))
  const restated = new Map<Json, readonly string[]>()
  if (known.length < 2 || !known.some(({ resource }) => resource.identifier !== undefined))
    return { standing: known, restated }
  const gone = new Set<Json>()
  for (const group of bySharedIdentifier([...new Set(known.map(({ resource }) => resource))], all)) {
    const [first, ...others] = [...group].sort((one, other) => ((ownKey(one) ?? '') < (ownKey(other) ?? '') ? -1 : 1))
    if (first === undefined || others.length === 0) continue
    const standing = others.reduce(
      (best, one) => (outranks({ resource: one }, { resource: best }, zone) ? one : best),
      first,
    )
    const rest = group.filter((one) => one !== standing)
    if (rest.some((one) => !outranks({ resource: standing }, { resource: one }, zone)))
      trail?.contradict('two different values of one measurement', standing, ...rest)
    for (const one of rest) gone.add(one)
    restated.set(
      standing,
      rest.flatMap((one) => ownKey(one) ?? []),
    )
  }
  return { standing: known.filter(({ resource }) => !gone.has(resource)), restated }
}

interface Numbered {
  readonly told: Told
  readonly count: number
}

/**
 * Lesions observed one by one, and those of which only a number is told. A number beside lesions told one by one is their total,
 * so it adds those that are not told; one that is smaller than what is told contradicts it.
 */
function observedLesions(
  examination: Examination,
  reading: Reading,
): { readonly lesions: Lesion[]; readonly unread: number } {
  const { standing, restated } = observed(examination, reading.asOf)
  const lesions: Lesion[] = []
  const numbers: Numbered[] = []
  let unread = 0
  for (const told of standing) {
    const sighting = sightingOf(told, examination, reading)
    if (sighting === 'unreadable') unread++
    else if (sighting === 'one') lesions.push(readPolyp(told, examination, reading, restated.get(told.resource)))
    else if (sighting !== 'none') numbers.push({ told, count: sighting })
  }
  const counted = finalNumbers(numbers, lesions)
  const total = counted.reduce((sum, { count }) => sum + count, 0)
  const all = numbers.reduce((sum, { count }) => sum + count, 0)
  if (
    numbers.length > 0 &&
    ((lesions.length > 0 && all !== lesions.length) || (counted.length < numbers.length && differ(numbers)))
  )
    examination.trail?.contradict(
      'two different values of one measurement',
      ...numbers.map(({ told }) => told.resource),
      ...lesions.map(({ resource }) => resource),
    )
  let untold = total - lesions.length
  for (const { told, count } of counted)
    for (let left = count; left > 0 && untold > 0; left--) {
      untold--
      lesions.push(readPolyp(told, examination, reading, restated.get(told.resource)))
    }
  return { lesions, unread }
}

const differ = ([first, ...others]: readonly Numbered[]): boolean => others.some(({ count }) => count !== first?.count)

/**
 * A number that is not final is only the draft of a final one of the same site, of the total, or of what is told one by one: it
 * is not added to them.
 */
function finalNumbers(numbers: readonly Numbered[], lesions: readonly Lesion[]): readonly Numbered[] {
  if (numbers.every(({ told }) => isFinal(told.resource))) return numbers
  const siteOf = ({ told: { resource } }: Numbered) => JSON.stringify(resource.bodySite)
  const finals = numbers.filter(({ told }) => isFinal(told.resource))
  const areTold = lesions.some(({ resource }) => isFinal(resource))
  return numbers.filter(
    (one) =>
      isFinal(one.told.resource) ||
      (!areTold &&
        !finals.some(
          (other) => siteOf(one) === undefined || siteOf(other) === undefined || siteOf(one) === siteOf(other),
        )),
  )
}

function isPolypectomy({ all }: Examination, { codes }: Reading): boolean {
  for (const { code } of all) if (codes.of(code).sets.has('polypectomy')) return true
  return false
}

/**
 * A polyp told as a Condition. Where polyps newly found are observed one by one, a Condition beside them is the diagnosis that sums
 * them up: counted with them it would count twice, so it is listed as a doubt instead.
 */
function addConditions(lesions: Lesion[], examination: Examination, reading: Reading): void {
  const { conditions, zone, trail } = examination
  if (conditions.length === 0) return
  const areObserved = lesions.some(({ isKnown }) => !isKnown)
  for (const told of conditions) {
    const { resource } = told
    if (!isKnownBy(resource.recordedDate, reading.asOf, zone)) continue
    if (areObserved) trail?.doubt('polyp told as a condition beside observed polyps', resource)
    else if (!isOfObserved(told, lesions)) lesions.push(readPolyp(told, examination, reading))
  }
}

/** Whether a Condition rests on an observation of a lesion that is already told: the same lesion. */
function isOfObserved({ resource }: Told, lesions: readonly Lesion[]): boolean {
  const details = asObjects(resource.evidence).flatMap((one) => keysAt([one], 'detail'))
  return lesions.some(({ keys }) => keys.some((key) => details.includes(key)))
}

/**
 * Sizes in observations of their own: of the polyp that they name or that names them; else of the only lesion, where there is only
 * one size.
 */
function addSizesToldApart(lesions: readonly Lesion[], unnamedRemovals: number, examination: Examination): void {
  const sizes = examination.observations['polyp-size']
  if (sizes.length === 0) return
  const [only] = lesions
  const isLone = only !== undefined && lesions.length === 1 && unnamedRemovals === 0 && sizes.length === 1
  for (const told of sizes) {
    const { resource, holder } = told
    const own = ownKey(resource) ?? ''
    const named = [...keysAt([resource], 'focus'), ...keysAt([resource], 'derivedFrom')]
    const meant = lesions.filter(
      (lesion) => lesion.keys.some((key) => named.includes(key)) || membersOf(lesion).includes(own),
    )
    const whose = meant.length > 0 ? meant : isLone ? [only] : []
    if (whose.length === 0) examination.trail?.doubt('size of which nothing says which polyp it is of', resource)
    for (const lesion of whose) takeSize(lesion, millimetresOf(holder), examination, told)
  }
}

const membersOf = ({ resource }: Lesion): readonly string[] => keysAt([resource], 'hasMember')

function finish(lesion: Lesion, examination: Examination): void {
  const { trail } = examination
  const { polyp, specimen, sizes, resource, told } = lesion
  if (specimen !== undefined && polyp.retrieval === undefined) {
    polyp.retrieval = 'retrieved'
    if (trail) restsOn(lesion, 'retrieval', told, elementOf(told, 'specimen'))
  }
  judgeOutcome(lesion, examination)
  if (sizes.length === 0) return
  const { exact, atLeast, atMost, isContradictory } = polypSize(sizes)
  polyp.sizeMillimetres = exact
  polyp.sizeAtLeastMillimetres = atLeast
  polyp.sizeAtMostMillimetres = atMost
  if (isContradictory) trail?.contradict('two different values of one measurement', resource)
}
