import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Trail } from './trail.ts'

/** A code or text that matched nothing, and where it stood. */
export interface Unmatched {
  /** Element, such as `Observation.code`. */
  readonly where: string
  readonly system: string | undefined
  readonly code: string | undefined
  /** Display or text as first met: one record's own words, never to be shown. */
  readonly words: string | undefined
  /** Patients by display or text, so that only words that many of them share are shown. */
  readonly wordings: Map<string, Set<string>>
  count: number
  /** Patients in whose records it stood, as keys that never leave the house. */
  readonly patients: Set<string>
}

/** A reference that led to nothing that was read. */
export interface DeadEnd {
  readonly element: string
  count: number
  /** Some of the resources that hold it. */
  readonly examples: string[]
}

/** One examination with what its facts rest on. */
export interface Surveyed {
  readonly record: Colonoscopy
  readonly trail: Trail
}

/** Examples kept of each kind of fault: enough to look at, few enough to hold. */
const examplesKept = 5

/** A resource's key in one respect: it may be lost in another. */
export const inRespectOf = (what: string, key: string): string => `${what}|${key}`

/**
 * What a window's linkage found out beside the records: evidence, codes and texts that matched nothing, references that led
 * nowhere. It is written by linkage and read by the wiring report; the records are the same with it and without.
 */
export class Survey {
  readonly examinations: Surveyed[] = []
  readonly unmatched = new Map<string, Unmatched>()
  readonly deadEnds = new Map<string, DeadEnd>()
  /** Keys of resources that no rung brought to an examination, by type and what they are. */
  readonly unplaced = new Map<string, Set<string>>()
  /** Keys of resources of these kinds that were brought to one: what one window cannot place, another may. */
  readonly placed = new Set<string>()
  /** Keys of resources by an element of theirs that is not of the shape that FHIR R4 gives it, and what is wrong with it. */
  readonly malformed = new Map<string, Set<string>>()

  /** Keys of resources that came with two contents, of which nothing says which is the newer. */
  readonly differing = new Set<string>()

  /** Takes down a CodeableConcept (or a lone Coding) of which nothing was known. */
  missed(where: string, concept: unknown, patient: string | undefined): void {
    const one = asObject(concept)
    if (one === undefined) return
    const codings =
      one.coding === undefined ? asObjects(one.code === undefined ? undefined : one) : asObjects(one.coding)
    const text = asText(one.text)
    if (codings.length === 0 && text !== undefined) this.#add(where, undefined, undefined, text, patient)
    for (const { system, code, display } of codings)
      this.#add(where, asText(system), asText(code), asText(display) ?? text, patient)
  }

  /** Takes down a text that stands where a code is expected. */
  missedText(where: string, text: unknown, patient: string | undefined): void {
    const words = asText(text)
    if (words !== undefined) this.#add(where, undefined, undefined, words, patient)
  }

  /** Takes down a reference that led nowhere. */
  deadEnd(element: string, holder: Json): void {
    const known = this.deadEnds.get(element) ?? { element, count: 0, examples: [] }
    this.deadEnds.set(element, known)
    known.count++
    const example = ownKey(holder)
    if (example !== undefined && known.examples.length < examplesKept && !known.examples.includes(example))
      known.examples.push(example)
  }

  /** Takes down a resource of a kind we know that no examination could be found for. */
  unlinked(what: string, resource: Json): void {
    const keys = this.unplaced.get(what) ?? new Set<string>()
    this.unplaced.set(what, keys)
    keys.add(ownKey(resource) ?? `without id ${keys.size}`)
  }

  /** Takes down an element that is not of its shape, so that nothing of it is read. */
  misshapen(what: string, resource: Json): void {
    const keys = this.malformed.get(what) ?? new Set<string>()
    this.malformed.set(what, keys)
    keys.add(ownKey(resource) ?? `without id ${keys.size}`)
  }

  /**
   * Takes down that a resource of such a kind was brought to an examination.
   *
   * @param what where it was only found not to be lost in this one respect
   */
  linked(resource: Json, what?: string): void {
    const key = ownKey(resource)
    if (key !== undefined) this.placed.add(what === undefined ? key : inRespectOf(what, key))
  }

  #add(
    where: string,
    system: string | undefined,
    code: string | undefined,
    words: string | undefined,
    patient: string | undefined,
  ): void {
    // A text alone is one thing however it is spaced or spelt in capitals.
    const key = JSON.stringify([where, system, code, code === undefined ? words?.toLowerCase() : undefined])
    const known = this.unmatched.get(key) ?? {
      ...{ where, system, code, words },
      count: 0,
      patients: new Set(),
      wordings: new Map(),
    }
    this.unmatched.set(key, known)
    known.count++
    if (patient === undefined) return
    known.patients.add(patient)
    if (words === undefined) return
    const saying = known.wordings.get(words) ?? new Set<string>()
    known.wordings.set(words, saying)
    saying.add(patient)
  }
}
