import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import { polypFields } from '../../../src/record/findings.ts'
import { found, millimetres, type Sums, sumsOf } from './polyps.ts'

const ids = [
  'polyp-retrieval-rate-uk-2016',
  'polyp-retrieval-rate-without-discarded-uk-2016',
  'cold-snare-rate-4-to-9-mm-us-2024',
  'cold-snare-rate-up-to-9-mm-descriptive',
  'snare-rather-than-forceps-rate-eu-2017',
  'snare-rather-than-forceps-rate-from-5-mm-descriptive',
  'tattoo-rate-uk-2016',
  'tattoo-rate-20-mm-and-more-descriptive',
  'endoscopic-attempt-before-surgery-rate-us-2015',
]

const maybe = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined, freq: 3 })
const word = <Word extends string>(words: readonly Word[]) => maybe(fc.constantFrom(...words))
const limit = fc.constantFrom(2, 3, 3.5, 4, 5, 9, 9.5, 10, 19, 20, 25)
const size = fc.oneof(
  limit.map(millimetres),
  fc
    .tuple(maybe(limit), maybe(limit))
    .filter(([low, high]) => low === undefined || high === undefined || low <= high)
    .map(([low, high]): Polyp => ({ sizeAtLeastMillimetres: low, sizeAtMostMillimetres: high })),
)
const polyp: fc.Arbitrary<Polyp> = fc
  .tuple(
    size,
    fc.record({
      site: word(polypFields.site.values),
      shape: word(polypFields.shape.values),
      // Removal, and the cold snare, more often than all else: most measures ask for them.
      handling: word([...polypFields.handling.values, 'removed', 'removed'] as const),
      tool: word([...polypFields.tool.values, 'cold-snare', 'cold-snare'] as const),
      retrieval: word(polypFields.retrieval.values),
      tattooed: maybe(fc.boolean()),
      sentForSurgery: maybe(fc.boolean()),
      removalAttempted: maybe(fc.boolean()),
      inaccessible: maybe(fc.boolean()),
      suspectedCancer: maybe(fc.boolean()),
    }),
  )
  .map(([bounds, facts]) => ({ ...bounds, ...facts }))
// In no sum of any of these measures, and something removed: a small rectal polyp, pedunculated, not sent for surgery.
const anchor: Polyp = {
  ...millimetres(12),
  site: 'rectum',
  shape: 'pedunculated',
  handling: 'removed',
  tool: 'hot-snare',
  sentForSurgery: false,
}

type Class = 'met' | 'not-met' | 'not-recorded' | 'undecided' | 'out'

/** What one polyp is to a measure. */
function classOf(id: string, one: Polyp): Class {
  const isRetrieval = id.startsWith('polyp-retrieval')
  const alone: Sums = isRetrieval ? [1, 1, 0, 0] : [0, 0, 0, 0]
  const beside: Polyp = isRetrieval ? { ...anchor, retrieval: 'retrieved' } : anchor
  const [met = 0, of = 0, notRecorded = 0, undecided = 0] = sumsOf(id, found(beside, one)).map(
    (sum, index) => sum - (alone[index] ?? 0),
  )
  expect(of + notRecorded + undecided, 'a polyp is in one class at the most').toBeLessThanOrEqual(1)
  if (met === 1) return 'met'
  if (of === 1) return 'not-met'
  if (notRecorded === 1) return 'not-recorded'
  return undecided === 1 ? 'undecided' : 'out'
}

// The law of three-valued logic, for polyps: what is taken away can only make a polyp's class less certain.
const lessCertain: Readonly<Record<Class, readonly Class[]>> = {
  met: ['met', 'not-recorded', 'undecided'],
  'not-met': ['not-met', 'not-recorded', 'undecided'],
  'not-recorded': ['not-recorded', 'undecided'],
  undecided: ['undecided'],
  // A polyp that was discarded, and of which nothing else is said than that it was removed, may be one whose outcome is unknown.
  out: ['out', 'not-recorded', 'undecided'],
}

describe.each(ids)('%s', (id) => {
  it('taking a fact away never makes a polyp met that was not, or out that was in, or the other way', () => {
    const seen = new Set<Class>()
    fc.assert(
      fc.property(polyp, (whole) => {
        const before = classOf(id, whole)
        seen.add(before)
        for (const name of Object.keys(whole) as (keyof Polyp)[])
          expect(lessCertain[before], `without ${name}`).toContain(classOf(id, { ...whole, [name]: undefined }))
      }),
      { seed: 20261125, numRuns: 400 },
    )
    expect(seen).toEqual(new Set(['met', 'not-met', 'not-recorded', 'undecided', 'out']))
  })

  it('the sums of several polyps are the sums of each', () => {
    fc.assert(
      fc.property(fc.array(polyp, { minLength: 1, maxLength: 5 }), (polyps) => {
        const each = polyps.map((one) => classOf(id, one))
        const many = (...classes: Class[]) => each.filter((one) => classes.includes(one)).length
        const retrieved: Polyp = id.startsWith('polyp-retrieval') ? { ...anchor, retrieval: 'retrieved' } : anchor
        const more = id.startsWith('polyp-retrieval') ? 1 : 0
        expect(sumsOf(id, found(retrieved, ...polyps))).toEqual([
          many('met') + more,
          many('met', 'not-met') + more,
          many('not-recorded'),
          many('undecided'),
        ])
      }),
      { seed: 20261126, numRuns: 100 },
    )
  })
})
