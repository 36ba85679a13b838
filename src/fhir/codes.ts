import type { CodeSystem, ConceptMap, FhirResource, ValueSet } from 'fhir/r4'
import { factSystem } from './canonical.ts'
import { canonicalSystem } from './code-system-aliases.ts'
import { type Joint, Joints, jointMeaning } from './joint-meaning.ts'
import { asObject, type Json } from './json.ts'
import { type Meaning, unknownMeaning } from './meaning.ts'

interface Entry extends Meaning {
  readonly sets: Set<string>
  readonly words: Map<string, string>
  fact: string | undefined
  readonly disputed: Set<string>
}

/** A code system as written in data, with the codes of it that are known. */
interface Known {
  readonly system: string | undefined
  readonly entries: Map<string, Entry> | undefined
}

/** A code to which a site's map leads, and which nobody knows here. */
export interface UnknownTarget {
  readonly map: string
  /** The site's code, and the target, each as `system|code`. */
  readonly code: string
  readonly target: string
}

/** Equivalences of R4 which say that the target is not what the code means. */
const noTranslation: ReadonlySet<string> = new Set(['unmatched', 'disjoint'])

/**
 * What codes mean: value sets and concept maps of `measures/`, and the site's own concept maps. A match needs system and
 * code, exactly; displays and texts never decide.
 */
export class Codes {
  readonly #bySystem = new Map<string, Map<string, Entry>>()
  /** Systems as written in data, so that aliases are worked out once. */
  readonly #systems = new Map<string, Map<string, Entry> | undefined>()

  readonly #vocabularies = new Map<string, Set<string>>()
  readonly #joints = new Joints(this.#vocabularies)

  readonly #unknownTargets: UnknownTarget[] = []

  /** The two systems met last, the later one first. */
  #last: Known = { system: undefined, entries: undefined }
  #earlier: Known = { system: undefined, entries: undefined }

  constructor(published: readonly FhirResource[], site: readonly ConceptMap[] = []) {
    for (const resource of published) {
      if (resource.resourceType === 'ValueSet') this.#addValueSet(resource)
      else if (resource.resourceType === 'ConceptMap') this.#addConceptMap(resource)
      else if (resource.resourceType === 'CodeSystem') this.#addCodeSystem(resource)
    }
    const said = new Map<Entry, Meaning[]>()
    for (const map of site) this.#addTranslations(map, said)
  }

  /** Targets of the site's maps that mean nothing here: with them a map would be without effect, in silence. */
  get unknownTargets(): readonly UnknownTarget[] {
    return this.#unknownTargets
  }

  /**
   * Meaning of a CodeableConcept: that of its coding, and of all of them together where several are known, whatever their
   * order. Looked up once, it answers every question on the concept.
   */
  of(concept: unknown): Meaning {
    const codings = asObject(concept)?.coding
    if (!Array.isArray(codings)) return unknownMeaning
    let first: Entry | undefined
    let all: Joint | undefined
    for (let index = 0; index < codings.length; index++) {
      const entry = this.#find(codings[index])
      if (entry === undefined || entry === first) continue
      if (first === undefined) first = entry
      else all = this.#joints.with(all ?? first, entry)
    }
    return all?.meaning ?? first ?? unknownMeaning
  }

  /** Whether any coding of a CodeableConcept is in a value set, named by its id. */
  in(concept: unknown, set: string): boolean {
    return this.of(concept).sets.has(set)
  }

  /** Word of the record for a CodeableConcept, by the id of a concept map; a code of ours means itself. */
  word(concept: unknown, map: string): string | undefined {
    const { words, fact, disputed } = this.of(concept)
    return words.get(map) ?? (disputed.has(map) ? undefined : fact)
  }

  /** Whether a CodeableConcept says anything by a concept map, be it that its codings dispute what. */
  speaks(concept: unknown, map: string): boolean {
    const { words, fact, disputed } = this.of(concept)
    return words.has(map) || disputed.has(map) || fact !== undefined
  }

  /** Code of ours that a CodeableConcept carries, directly or through a site's map. */
  fact(concept: unknown): string | undefined {
    return this.of(concept).fact
  }

  /** Word for one Coding, as in `Encounter.class`. */
  wordOfCoding(coding: unknown, map: string): string | undefined {
    return this.word({ coding: [coding] }, map)
  }

  /** Every code, of whatever system, in a value set: what a search asks for, since servers spell systems differently. */
  codesIn(set: string): string[] {
    const codes = new Set<string>()
    for (const meanings of this.#bySystem.values())
      for (const [code, { sets }] of meanings) if (sets.has(set)) codes.add(code)
    return [...codes].sort()
  }

  /** As {@link codesIn}, of whatever means one of some facts of ours. */
  codesOf(facts: ReadonlySet<string>): string[] {
    const codes = new Set<string>()
    for (const meanings of this.#bySystem.values())
      for (const [code, { fact }] of meanings) if (fact !== undefined && facts.has(fact)) codes.add(code)
    return [...codes].sort()
  }

  #find(coding: unknown): Entry | undefined {
    const { system, code } = (coding ?? {}) as Json
    if (typeof system !== 'string' || typeof code !== 'string') return undefined
    // Neighbours are mostly of one system, or of two by turns: comparing is cheaper than looking up.
    if (system !== this.#last.system) {
      const next = system === this.#earlier.system ? this.#earlier : { system, entries: this.#entriesOf(system) }
      this.#earlier = this.#last
      this.#last = next
    }
    const { entries } = this.#last
    return entries?.get(code) ?? entries?.get(code.trim())
  }

  #entriesOf(system: string): Map<string, Entry> | undefined {
    if (!this.#systems.has(system)) this.#systems.set(system, this.#bySystem.get(canonicalSystem(system)))
    return this.#systems.get(system)
  }

  #entry(system: string, code: string): Entry {
    const canonical = canonicalSystem(system)
    const entries = this.#bySystem.get(canonical) ?? new Map<string, Entry>()
    this.#bySystem.set(canonical, entries)
    const entry: Entry = entries.get(code) ?? {
      ...{ sets: new Set(), words: new Map(), fact: undefined, disputed: new Set() },
    }
    entries.set(code, entry)
    return entry
  }

  #addValueSet({ id, compose }: ValueSet): void {
    for (const { system, concept } of compose?.include ?? [])
      for (const { code } of concept ?? []) if (system && id) this.#entry(system, code).sets.add(id)
  }

  #addConceptMap({ id, group }: ConceptMap): void {
    for (const { source, element } of group ?? [])
      for (const { code, target } of element) {
        const word = target?.[0]?.code
        if (!id || !source || !code || !word) continue
        this.#entry(source, code).words.set(id, word)
        this.#vocabularies.set(id, (this.#vocabularies.get(id) ?? new Set()).add(word))
      }
  }

  #addCodeSystem({ url, concept }: CodeSystem): void {
    if (url !== factSystem) return
    for (const { code } of concept ?? []) this.#entry(url, code).fact = code
  }

  /** A site's code takes on everything that the codes it maps to mean, all of them together. */
  #addTranslations({ id, url, name, group }: ConceptMap, said: Map<Entry, Meaning[]>): void {
    for (const { source, target: targetSystem, element } of group ?? [])
      for (const { code, target } of element)
        for (const one of target ?? []) {
          if (!source || !code || !targetSystem || !one.code || noTranslation.has(one.equivalence)) continue
          const meaning = this.#bySystem.get(canonicalSystem(targetSystem))?.get(one.code)
          if (meaning) {
            const own = this.#entry(source, code)
            const all = [...(said.get(own) ?? []), { ...meaning }]
            said.set(own, all)
            const meant = jointMeaning(all, this.#vocabularies)
            take(own, meant)
            own.fact = canonicalSystem(source) === factSystem ? code : meant.fact
          } else
            this.#unknownTargets.push({
              map: id ?? url ?? name ?? 'without a name',
              code: `${source}|${code}`,
              target: `${targetSystem}|${one.code}`,
            })
        }
  }
}

/** What a site says of a code stands before what is published of it. */
function take(own: Entry, meaning: Meaning): void {
  for (const set of meaning.sets) own.sets.add(set)
  for (const [map, word] of meaning.words) own.words.set(map, word)
  for (const map of meaning.disputed) {
    own.words.delete(map)
    own.disputed.add(map)
  }
}
