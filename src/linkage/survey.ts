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
  /** Display or text as first met. Whoever shows it must see to it that enough patients share it. */
  readonly words: string | undefined
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

/**
 * What a window's linkage found out beside the records: evidence, codes and texts that matched nothing, references that led
 * nowhere. It is written by linkage and read by the wiring report; the records are the same with it and without.
 */
export class Survey {
  readonly examinations: Surveyed[] = []
  readonly unmatched = new Map<string, Unmatched>()
  readonly deadEnds = new Map<string, DeadEnd>()
  /** Resources that no rung brought to an examination, by type and what they are. */
  readonly unplaced = new Map<string, number>()

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
  unlinked(what: string): void {
    this.unplaced.set(what, (this.unplaced.get(what) ?? 0) + 1)
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
    const known = this.unmatched.get(key) ?? { where, system, code, words, count: 0, patients: new Set() }
    this.unmatched.set(key, known)
    known.count++
    if (patient !== undefined) known.patients.add(patient)
  }
}
