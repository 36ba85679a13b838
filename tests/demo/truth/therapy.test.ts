import { describe, expect, it } from 'vitest'
import { truthAnswer } from '../../../src/local/demo/truth.ts'
import type { TruthPolyp, TruthRow } from '../../../src/local/demo/truth-row.ts'
import { plain } from '../plain-row.ts'

// Expected from the definitions of the measures.
const removed: TruthPolyp = { site: 'sigmoid', handling: 'removed', retrieval: 'retrieved', nature: 'hyperplastic' }
const told = (measure: string, facts: Partial<TruthRow>) => truthAnswer(measure, { ...plain, ...facts })
/** Polyps that have it, of those of which it is told. */
const share = (measure: string, ...polyps: readonly TruthPolyp[]) => {
  const { answer, value, over } = told(measure, { polyps })
  return answer === 'met' ? [value, over] : answer
}
const of = (size: number, more: Partial<TruthPolyp> = {}): TruthPolyp => ({
  ...removed,
  sizeMillimetres: size,
  ...more,
})

it.each(['uk-2016', 'eu-2017'])(
  'retrieval (%s): discarded ones are lost, or left out; biopsied ones are no matter',
  (id) => {
    const polyps: TruthPolyp[] = [
      removed,
      { ...removed, retrieval: 'not-retrieved' },
      { ...removed, retrieval: 'discarded-under-protocol' },
      { ...removed, handling: 'biopsied' },
      { site: 'rectum', handling: 'removed', nature: 'other' },
    ]
    expect(share(`polyp-retrieval-rate-${id}`, ...polyps)).toEqual([1, 3])
    expect(share(`polyp-retrieval-rate-without-discarded-${id}`, ...polyps)).toEqual([1, 2])
    expect(share(`polyp-retrieval-rate-${id}`)).toBe('out')
  },
)

it('retrieval of the UK programme is told after a positive test alone', () => {
  for (const id of ['', 'without-discarded-'].map((part) => `polyp-retrieval-rate-${part}uk-screening-programme`)) {
    const after = (reason: TruthRow['reason']) => told(id, { polyps: [removed], ...(reason && { reason }) }).answer
    expect([after('screening'), after('positive-screening-test')]).toEqual(['out', 'met'])
  }
})

it('cold snares from 4 to 9 mm, and up to 9 mm: a bound is no size', () => {
  const sizes = [3, 4, 9, 10].map((size) => of(size, { tool: 'cold-snare' }))
  const bound: TruthPolyp = { ...removed, sizeAtMostMillimetres: 5, tool: 'cold-forceps' }
  const unsized: TruthPolyp = { ...removed, tool: 'cold-snare' }
  expect(share('cold-snare-rate-4-to-9-mm-us-2024', ...sizes, bound, unsized, of(5))).toEqual([2, 2])
  expect(share('cold-snare-rate-up-to-9-mm-descriptive', ...sizes, bound, unsized, of(5))).toEqual([3, 4])
})

it('snares above 3 mm, and from 5 mm, where the shape is told and is not pedunculated', () => {
  const polyps = [
    of(3, { shape: 'sessile', tool: 'cold-snare' }),
    of(4, { shape: 'flat', tool: 'cold-forceps' }),
    of(5, { shape: 'depressed', tool: 'mucosal-resection' }),
    of(25, { shape: 'flat', tool: 'submucosal-dissection' }),
    of(8, { shape: 'pedunculated', tool: 'hot-snare' }),
    of(8, { tool: 'hot-snare' }),
    of(8, { shape: 'sessile' }),
  ]
  expect(share('snare-rather-than-forceps-rate-eu-2017', ...polyps)).toEqual([2, 3])
  expect(share('snare-rather-than-forceps-rate-from-5-mm-descriptive', ...polyps)).toEqual([2, 2])
})

it('tattoos from 20 mm, or where it looked malignant, outside rectum and caecum', () => {
  const polyps = [
    of(20, { tattooed: true }),
    of(19, { tattooed: true, suspectedCancer: false }),
    of(12, { tattooed: false, suspectedCancer: true }),
    of(12, { tattooed: false }),
    of(30, { tattooed: true, site: 'rectum' }),
    of(30, { tattooed: true, site: 'caecum' }),
    of(30),
  ]
  expect(share('tattoo-rate-uk-2016', ...polyps)).toEqual([1, 2])
  expect(share('tattoo-rate-20-mm-and-more-descriptive', ...polyps)).toEqual([1, 1])
})

describe('biopsies for chronic diarrhoea', () => {
  const counted = (right: number, left: number, rectum: number): Partial<TruthRow> => ({
    ...{ biopsiesRight: right, biopsiesLeft: left, biopsiesRectum: rectum },
    ...{ biopsiesRightAtLeast: right, biopsiesLeftAtLeast: left, biopsiesRectumAtLeast: rectum },
    randomBiopsies: right + left + rectum,
  })
  it.each<[string, Partial<TruthRow>, string, string, string]>([
    ['two of the rectum', counted(0, 0, 2), 'met', 'notMet', 'met'],
    ['one of each side', counted(1, 1, 0), 'notMet', 'met', 'met'],
    ['one of the left', counted(0, 1, 0), 'notMet', 'notMet', 'met'],
    ['none', counted(0, 0, 0), 'notMet', 'notMet', 'notMet'],
    ['a pot of the rectum, uncounted', { randomBiopsies: 1, biopsiesRectumAtLeast: 1 }, 'met', 'notRecorded', 'met'],
    ['a pot of nobody knows where', { randomBiopsies: 1 }, 'notRecorded', 'notRecorded', 'notRecorded'],
    ['no tissue at all', {}, 'notMet', 'notMet', 'notMet'],
    ['one of the rectum, and no tissue at all', { biopsiesRectumAtLeast: 1 }, 'notRecorded', 'notMet', 'notRecorded'],
  ])('%s', (_, facts, rectum, sides, anywhere) => {
    const answers = ['rectum-uk-2016', 'rectum-no-known-cause-uk-2016', 'right-and-left-descriptive', 'us-2015'].map(
      (id) => told(`diarrhoea-biopsy-rate-${id}`, { ...facts, chronicDiarrhoea: true }).answer,
    )
    expect(answers).toEqual([rectum, rectum, sides, anywhere])
  })

  it('are asked for where that is the reason, and by one measure where no colitis explains it', () => {
    const answer = (facts: Partial<TruthRow>) =>
      ['rectum-uk-2016', 'rectum-no-known-cause-uk-2016'].map((id) => told(`diarrhoea-biopsy-rate-${id}`, facts).answer)
    expect(answer({ chronicDiarrhoea: false })).toEqual(['out', 'out'])
    expect(answer({})).toEqual(['eligibilityNotRecorded', 'eligibilityNotRecorded'])
    for (const colitis of [{ inflammatoryBowelDisease: true }, { inflammatoryBowelDiseaseSeen: true }])
      expect(answer({ chronicDiarrhoea: true, ...colitis })).toEqual(['notMet', 'excluded'])
  })
})

it('lesions left on purpose and not found again are told apart, and not told where one is not', () => {
  const ids = ['left-in-place', 'left-on-purpose', 'not-found-again'].map(
    (how) => `lesions-${how}-per-colonoscopy-descriptive`,
  )
  const lesions = (...handled: TruthPolyp['handling'][]) =>
    handled.map((handling): TruthPolyp => ({ site: 'rectum', nature: 'other', ...(handling && { handling }) }))
  const values = (polyps: TruthPolyp[]) => ids.map((id) => told(id, { polyps }).value)
  expect(values(lesions('left', 'left', 'not-found-again', 'biopsied', 'removed'))).toEqual([3, 2, 1])
  expect(values([])).toEqual([0, 0, 0])
  expect(ids.map((id) => told(id, { polyps: lesions('left', undefined) }).answer)).toEqual(ids.map(() => 'notRecorded'))
})

it('an attempt before surgery: pedunculated, or sessile below 20 mm, and sent', () => {
  const sent = (size: number, more: Partial<TruthPolyp>) =>
    of(size, { handling: 'biopsied', sentForSurgery: true, ...more })
  const polyps = [
    sent(30, { shape: 'pedunculated', removalAttempted: false, inaccessible: false }),
    sent(19, { shape: 'sessile', removalAttempted: true }),
    sent(19, { shape: 'sessile', inaccessible: true }),
    sent(19, { shape: 'sessile', removalAttempted: false }),
    sent(20, { shape: 'sessile', removalAttempted: true }),
    sent(12, { shape: 'flat', removalAttempted: true }),
    sent(12, { removalAttempted: true }),
    of(12, { shape: 'sessile', removalAttempted: true }),
  ]
  expect(share('endoscopic-attempt-before-surgery-rate-us-2015', ...polyps)).toEqual([2, 3])
})
