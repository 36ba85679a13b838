import type { FhirResource } from 'fhir/r4'
import { factSystem } from '../fhir/canonical.ts'

/** A concept of ours that an unmatched code may mean, and the value set or concept map in which it stands. */
export interface Closest {
  readonly code: string
  readonly display: string
  /** Canonical of the value set or concept map that holds it; that of the code system where none does. */
  readonly within: string
}

interface Candidate extends Closest {
  readonly words: ReadonlySet<string>
}

/** Words that tell nothing apart. */
const empty = new Set(['of', 'the', 'a', 'an', 'and', 'or', 'in', 'on', 'to', 'by', 'with', 'for', 'from', 'is', 'was'])

/**
 * Finds, for the display or text of a code that matched nothing, the concept of ours that shares most words with it. A
 * proposal for somebody to judge, never used to read a record.
 *
 * @param published the value sets, concept maps and code systems of `measures/`
 */
export function closestConcepts(
  published: readonly FhirResource[],
): (words: string | undefined) => Closest | undefined {
  const candidates = candidatesIn(published)
  return (text) => {
    const asked = wordsOf(text ?? '')
    let best: Candidate | undefined
    let most = 0
    for (const candidate of candidates) {
      const share = overlap(asked, candidate.words)
      if (share > most) {
        most = share
        best = candidate
      }
    }
    // Half of the words in common, or it is chance.
    return best && most >= 0.5 ? { code: best.code, display: best.display, within: best.within } : undefined
  }
}

function candidatesIn(published: readonly FhirResource[]): readonly Candidate[] {
  const within = new Map<string, string>()
  const shown: { code: string; display: string }[] = []
  const found: Candidate[] = []
  for (const resource of published) {
    if (resource.resourceType === 'ValueSet')
      for (const { system, concept } of resource.compose?.include ?? [])
        for (const { code, display } of concept ?? []) {
          const url = resource.url ?? ''
          if (system === factSystem && !within.has(code)) within.set(code, url)
          else if (display !== undefined && system !== undefined)
            found.push({ code: `${system}|${code}`, display, within: url, words: wordsOf(display) })
        }
    if (resource.resourceType === 'CodeSystem' && resource.url === factSystem)
      for (const { code, display } of resource.concept ?? []) shown.push({ code, display: display ?? code })
  }
  const ours = shown.map(
    ({ code, display }): Candidate => ({
      code: `${factSystem}|${code}`,
      display,
      within: within.get(code) ?? factSystem,
      words: wordsOf(`${display} ${code}`),
    }),
  )
  return [...ours, ...found]
}

/** Words in small letters, without endings that only make a plural. */
function wordsOf(text: string): ReadonlySet<string> {
  const words = text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word.length > 1 && !empty.has(word))
  return new Set(words.map((word) => (word.length > 3 ? word.replace(/s$/, '') : word)))
}

/** Twice the words in common, over all words of both: 1 for the same words, 0 for none in common. */
function overlap(one: ReadonlySet<string>, other: ReadonlySet<string>): number {
  let common = 0
  for (const word of one) if (other.has(word)) common++
  return one.size + other.size === 0 ? 0 : (2 * common) / (one.size + other.size)
}
