import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { mentionsKnownLesion } from '../../../src/linkage/text/known-lesion.ts'
import { fixture, labelledReasons, type Miss, reasonSets } from './text-sets.ts'

const misses = fixture<Record<string, Miss[]>>('misses.json')
const known = new Set(reasonSets.flatMap((set) => (misses[set] ?? []).map(({ id }) => id)))

// Labels were given by hand by the rules of fixtures/text/README.md.
describe.each(reasonSets)('a reason of %s', (set) => {
  it.each(labelledReasons(set).filter(({ id }) => !known.has(id)))('names a known lesion or not: "$text"', (one) => {
    expect(mentionsKnownLesion(one.text)).toBe(one.knownLesion)
  })
})

describe('a known lesion', () => {
  it('is none where it is denied, doubted, of a relative or gone', () => {
    expect(mentionsKnownLesion('known polyp')).toBe(true)
    for (const text of [
      'no known polyp',
      'possible known polyp',
      "mother's known polyp",
      'known polyp removed',
      'history of known polyp',
    ])
      expect(mentionsKnownLesion(text), text).toBe(false)
  })

  it('may be asked of any text without an error', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 300 }),
        (text) => typeof mentionsKnownLesion(text) === 'boolean',
      ),
      { seed: 20_260_815, numRuns: 1000 },
    )
    for (const piece of ['known ', 'polyp ', 'a, ', ' ']) expect(mentionsKnownLesion(piece.repeat(200_000))).toBe(false)
  })
})
