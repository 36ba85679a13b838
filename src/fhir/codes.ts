import type { CodeSystem, ConceptMap, FhirResource, ValueSet } from 'fhir/r4'
import { factSystem } from './canonical.ts'
import { canonicalSystem } from './code-system-aliases.ts'
import { asObject, asObjects, asText, type Json } from './json.ts'

interface Meaning {
  /** Value sets that hold the code. */
  readonly sets: Set<string>
  /** Word of the record, by concept map. */
  readonly words: Map<string, string>
  /** The same concept in the code system of ours. */
  fact?: string
}

/**
 * What codes mean: value sets and concept maps of `measures/`, and the site's own concept maps. A match needs system and
 * code, exactly; displays and texts never decide.
 */
export class Codes {
  readonly #bySystem = new Map<string, Map<string, Meaning>>()
  /** Systems as written in data, so that aliases are worked out once. */
  readonly #systems = new Map<string, Map<string, Meaning> | undefined>()

  constructor(published: readonly FhirResource[], site: readonly ConceptMap[] = []) {
    for (const resource of published) {
      if (resource.resourceType === 'ValueSet') this.#addValueSet(resource)
      else if (resource.resourceType === 'ConceptMap') this.#addConceptMap(resource)
      else if (resource.resourceType === 'CodeSystem') this.#addCodeSystem(resource)
    }
    for (const map of site) this.#addTranslations(map)
  }

  /** Whether any coding of a CodeableConcept is in a value set, named by its id. */
  in(concept: unknown, set: string): boolean {
    return this.#some(concept, (meaning) => meaning.sets.has(set)) !== undefined
  }

  /** Word of the record for a CodeableConcept, by the id of a concept map; a code of ours means itself. */
  word(concept: unknown, map: string): string | undefined {
    const meaning = this.#some(concept, ({ words, fact }) => words.has(map) || fact !== undefined)
    return meaning && (meaning.words.get(map) ?? meaning.fact)
  }

  /** Code of ours that a CodeableConcept carries, directly or through a site's map. */
  fact(concept: unknown): string | undefined {
    return this.#some(concept, ({ fact }) => fact !== undefined)?.fact
  }

  /** Word for one Coding, as in `Encounter.class`. */
  wordOfCoding(coding: unknown, map: string): string | undefined {
    return this.word({ coding: [coding] }, map)
  }

  /** Whether anything at all is known of a CodeableConcept. */
  known(concept: unknown): boolean {
    return this.#some(concept, () => true) !== undefined
  }

  /** Every code, of whatever system, in a value set: what a search asks for, since servers spell systems differently. */
  codesIn(set: string): string[] {
    const codes = new Set<string>()
    for (const meanings of this.#bySystem.values())
      for (const [code, { sets }] of meanings) if (sets.has(set)) codes.add(code)
    return [...codes].sort()
  }

  #some(concept: unknown, found: (meaning: Meaning) => boolean): Meaning | undefined {
    for (const coding of asObjects(asObject(concept)?.coding)) {
      const meaning = this.#meaning(coding)
      if (meaning !== undefined && found(meaning)) return meaning
    }
    return undefined
  }

  #meaning(coding: Json): Meaning | undefined {
    const { system, code } = coding
    if (typeof system !== 'string' || typeof code !== 'string') return undefined
    if (!this.#systems.has(system)) this.#systems.set(system, this.#bySystem.get(canonicalSystem(system.trim())))
    const meanings = this.#systems.get(system)
    return meanings?.get(code) ?? meanings?.get(code.trim())
  }

  #entry(system: string, code: string): Meaning {
    const canonical = canonicalSystem(system)
    const meanings = this.#bySystem.get(canonical) ?? new Map<string, Meaning>()
    this.#bySystem.set(canonical, meanings)
    const meaning: Meaning = meanings.get(code) ?? { sets: new Set(), words: new Map() }
    meanings.set(code, meaning)
    return meaning
  }

  #addValueSet({ id, compose }: ValueSet): void {
    for (const { system, concept } of compose?.include ?? [])
      for (const { code } of concept ?? []) if (system && id) this.#entry(system, code).sets.add(id)
  }

  #addConceptMap({ id, group }: ConceptMap): void {
    for (const { source, element } of group ?? [])
      for (const { code, target } of element) {
        const word = target?.[0]?.code
        if (id && source && code && word) this.#entry(source, code).words.set(id, word)
      }
  }

  #addCodeSystem({ url, concept }: CodeSystem): void {
    if (url !== factSystem) return
    for (const { code } of concept ?? []) this.#entry(url, code).fact = code
  }

  /** A site's code takes on everything that the code it maps to means. */
  #addTranslations({ group }: ConceptMap): void {
    for (const { source, target: targetSystem, element } of group ?? [])
      for (const { code, target } of element)
        for (const one of target ?? []) {
          if (!source || !code || !targetSystem || !one.code || one.equivalence === 'unmatched') continue
          const meaning = this.#bySystem.get(canonicalSystem(targetSystem))?.get(one.code)
          if (!meaning) continue
          const own = this.#entry(source, code)
          for (const set of meaning.sets) own.sets.add(set)
          for (const [map, word] of meaning.words) own.words.set(map, word)
          if (meaning.fact !== undefined) own.fact = meaning.fact
        }
  }
}

/** Systems that appear in a resource list and are known here, in their canonical spelling: for reports on what was recognised. */
export function systemOf(coding: Json): string | undefined {
  const system = asText(coding.system)
  return system && canonicalSystem(system)
}
