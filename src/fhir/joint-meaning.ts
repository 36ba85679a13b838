import type { Meaning } from './meaning.ts'

/** Words that a concept map can give, by the id of the map. */
export type Vocabularies = ReadonlyMap<string, ReadonlySet<string>>

/**
 * What several codes mean as one concept, whatever their order. Codes that say different words of one concept map leave it
 * without a word there, and two different codes of ours leave it without one of ours: nobody can tell which was meant. A code of
 * ours that is a word of a map says that word.
 */
export function jointMeaning(meanings: readonly Meaning[], vocabularies: Vocabularies): Meaning {
  const facts = new Set(meanings.flatMap(({ fact }) => fact ?? []))
  const maps = new Set(meanings.flatMap(({ words }) => [...words.keys()]))
  if (facts.size > 1)
    for (const [map, vocabulary] of vocabularies) if ([...facts].some((fact) => vocabulary.has(fact))) maps.add(map)
  const disputed = new Set(meanings.flatMap((one) => [...one.disputed]))
  const words = new Map<string, string>()
  let fact = facts.size === 1 ? [...facts][0] : undefined
  for (const map of maps) {
    const said = new Set(meanings.flatMap((one) => wordIn(one, map, vocabularies) ?? []))
    const [word, ...others] = said
    if (others.length > 0) disputed.add(map)
    if (word !== undefined && !disputed.has(map)) words.set(map, word)
    else if (fact !== undefined && said.has(fact)) fact = undefined
  }
  return { sets: new Set(meanings.flatMap(({ sets }) => [...sets])), words, fact, disputed }
}

function wordIn({ words, fact }: Meaning, map: string, vocabularies: Vocabularies): string | undefined {
  return words.get(map) ?? (fact !== undefined && vocabularies.get(map)?.has(fact) ? fact : undefined)
}

/** Several codes of one concept, in the order in which they were met, and what they mean together. */
export interface Joint {
  readonly of: readonly Meaning[]
  readonly meaning: Meaning
  readonly longer: Map<Meaning, Joint>
}

/** Joint meanings worked out so far: codes that stand together mostly do so in many records. */
export class Joints {
  readonly #alone = new Map<Meaning, Joint>()
  readonly #vocabularies: Vocabularies

  constructor(vocabularies: Vocabularies) {
    this.#vocabularies = vocabularies
  }

  /** One code, or several, with another. */
  with(one: Joint | Meaning, other: Meaning): Joint {
    const joint = 'of' in one ? one : this.#jointOf(one)
    if (joint.of.includes(other)) return joint
    const known = joint.longer.get(other)
    if (known) return known
    const of = [...joint.of, other]
    const longer: Joint = { of, meaning: jointMeaning(of, this.#vocabularies), longer: new Map() }
    joint.longer.set(other, longer)
    return longer
  }

  #jointOf(meaning: Meaning): Joint {
    const known = this.#alone.get(meaning) ?? { of: [meaning], meaning, longer: new Map<Meaning, Joint>() }
    this.#alone.set(meaning, known)
    return known
  }
}
