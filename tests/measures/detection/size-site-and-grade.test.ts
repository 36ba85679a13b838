import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerTo, type Facts, found, sized } from './examined.ts'

// Expected from the definitions: 10 mm or more; 5 mm or less; beyond the splenic flexure or the sigmoid, both in print;
// hyperplastic of 10 mm or more, or of more than 5 mm and proximal (PMC9296608, read). Not met takes certainty.
const cecal = (millimetres: number, rest: Polyp = {}) =>
  sized(millimetres, { site: 'caecum', handling: 'removed', histology: 'conventional-adenoma', ...lowTubular, ...rest })
const lowTubular = { dysplasia: 'low-grade', villous: false } as const satisfies Polyp
const unsized: Polyp = { site: 'caecum', handling: 'removed', histology: 'conventional-adenoma', ...lowTubular }
const atLeast = (millimetres: number): Polyp => ({ ...unsized, sizeAtLeastMillimetres: millimetres })
const atMost = (millimetres: number): Polyp => ({ ...unsized, sizeAtMostMillimetres: millimetres })
/** Polyps in one pot with a diagnosis each: nobody knows which is the adenoma, and all counts are known. */
const sharedPot = (...polyps: readonly Polyp[]): Facts => ({
  ...found(...polyps),
  polyps: polyps.map((polyp) => ({ ...polyp, histology: undefined })),
})
const hyperplastic: Polyp = { histology: 'hyperplastic' }
const lost: Polyp = { retrieval: 'not-retrieved', histology: undefined }

describe('adenomas of 10 mm or more, and of 5 mm or less', () => {
  it.each<[what: string, facts: Facts, large: AnswerCode, diminutive: AnswerCode]>([
    ['10 mm', found(cecal(10)), 'met', 'not-met'],
    ['9.999 mm', found(cecal(9.999)), 'not-met', 'not-met'],
    ['5 mm', found(cecal(5)), 'not-met', 'met'],
    ['5.001 mm', found(cecal(5.001)), 'not-met', 'not-met'],
    ['3 and 12 mm', found(cecal(3), cecal(12)), 'met', 'met'],
    ['no size', found(unsized), 'not-recorded', 'not-recorded'],
    ['no size beside one that decides', found(unsized, cecal(12), cecal(2)), 'met', 'met'],
    ['no size beside one that does not', found(unsized, cecal(7)), 'not-recorded', 'not-recorded'],
    ['10 mm at least', found(atLeast(10)), 'met', 'not-met'],
    ['5 mm at most', found(atMost(5)), 'not-met', 'met'],
    ['12 mm at most', found(atMost(12)), 'not-recorded', 'not-recorded'],
    ['10 mm at most, which 10 mm is too', found(atMost(10)), 'not-recorded', 'not-recorded'],
    ['a large hyperplastic polyp beside a small adenoma', found(cecal(12, hyperplastic), cecal(4)), 'not-met', 'met'],
    ['a large polyp lost beside a small adenoma', found(cecal(12, lost), cecal(4)), 'not-met', 'met'],
    ['3 and 4 mm in one pot', sharedPot(cecal(3), cecal(4, hyperplastic)), 'not-met', 'not-recorded'],
    ['12 and 15 mm in one pot', sharedPot(cecal(12), cecal(15, hyperplastic)), 'not-recorded', 'not-met'],
    ['3 and 15 mm in one pot', sharedPot(cecal(3), cecal(15, hyperplastic)), 'not-recorded', 'not-recorded'],
    [
      '3 and 4 mm in one pot, and 15 mm lost',
      sharedPot(cecal(3), cecal(4, hyperplastic), cecal(15, lost)),
      'not-met',
      'not-recorded',
    ],
    [
      '12 and 15 mm in one pot, and 3 mm left',
      sharedPot(cecal(12), cecal(15, hyperplastic), cecal(3, { handling: 'left', histology: undefined })),
      'not-recorded',
      'not-met',
    ],
    // A second adenoma lies in a pot that no polyp accounts for.
    ['one more than the polyps', { ...found(cecal(3)), adenomaCount: 2 }, 'not-recorded', 'met'],
    [
      'the only one in no polyp',
      { ...found(cecal(3, hyperplastic)), adenomaFound: true, adenomaCount: 1 },
      'not-recorded',
      'not-recorded',
    ],
    ['polyps only counted', { ...found(cecal(3)), polyps: undefined }, 'not-recorded', 'not-recorded'],
    ['no adenoma, polyps only counted', { ...found(cecal(3, hyperplastic)), polyps: undefined }, 'not-met', 'not-met'],
    [
      'a report that never came, of another',
      found(cecal(12), cecal(3, { histology: undefined })),
      'met',
      'not-recorded',
    ],
  ])('%s', (_, facts, large, diminutive) => {
    expect(answerTo('adenoma-at-least-10-mm-detection-rate-descriptive', facts).code).toBe(large)
    expect(answerTo('diminutive-adenoma-detection-rate-descriptive', facts).code).toBe(diminutive)
  })
})

// US: 10 mm, villous or high grade (memory). Europe and UK 2020 do not ask for a villous part (read).
describe('advanced adenomas, by both definitions', () => {
  it.each<[what: string, facts: Facts, villousCounts: AnswerCode, without: AnswerCode]>([
    ['small, tubular, low grade', found(cecal(4)), 'not-met', 'not-met'],
    ['10 mm', found(cecal(10)), 'met', 'met'],
    ['small and villous', found(cecal(4, { villous: true })), 'met', 'not-met'],
    ['small and high grade', found(cecal(4, { dysplasia: 'high-grade' })), 'met', 'met'],
    ['a grade that nobody wrote', found(cecal(4, { dysplasia: undefined })), 'not-recorded', 'not-recorded'],
    ['an architecture that nobody wrote', found(cecal(4, { villous: undefined })), 'not-recorded', 'not-met'],
    ['10 mm, the rest unwritten', found(cecal(10, { villous: undefined, dysplasia: undefined })), 'met', 'met'],
    ['no size, low grade', found(unsized), 'not-recorded', 'not-recorded'],
    ['no size, high grade', found({ ...unsized, dysplasia: 'high-grade' }), 'met', 'met'],
    [
      'a large sessile serrated lesion with dysplasia',
      found(cecal(20, { histology: 'sessile-serrated-lesion', dysplasia: 'high-grade' })),
      'not-met',
      'not-met',
    ],
  ])('%s', (_, facts, villousCounts, without) => {
    expect(answerTo('advanced-adenoma-detection-rate-with-villous-descriptive', facts).code).toBe(villousCounts)
    expect(answerTo('advanced-adenoma-detection-rate-without-villous-descriptive', facts).code).toBe(without)
  })
})

describe('beyond the splenic flexure, and beyond the sigmoid', () => {
  const sites: readonly [Polyp['site'] | undefined, AnswerCode, AnswerCode][] = [
    ['anal-canal', 'not-met', 'not-met'],
    ['rectum', 'not-met', 'not-met'],
    ['rectosigmoid', 'not-met', 'not-met'],
    ['sigmoid', 'not-met', 'not-met'],
    ['descending', 'not-met', 'met'],
    ['splenic-flexure', 'not-met', 'met'],
    ['transverse', 'met', 'met'],
    ['hepatic-flexure', 'met', 'met'],
    ['ascending', 'met', 'met'],
    ['caecum', 'met', 'met'],
    ['ileum', 'not-met', 'not-met'],
    ['anastomosis', 'not-recorded', 'not-recorded'],
    [undefined, 'not-recorded', 'not-recorded'],
  ]
  const kinds = [
    ['proximal-adenoma-detection-rate', 'conventional-adenoma', 'hyperplastic'],
    ['proximal-serrated-polyp-detection-rate', 'hyperplastic', 'conventional-adenoma'],
    ['proximal-serrated-polyp-detection-rate', 'sessile-serrated-lesion', 'cancer'],
    ['proximal-serrated-polyp-detection-rate', 'traditional-serrated-adenoma', 'other'],
  ] as const
  describe.each(kinds)('%s, %s', (measure, histology, another) => {
    const both = (...polyps: Polyp[]) =>
      (['splenic-flexure', 'sigmoid'] as const).map(
        (boundary) => answerTo(`${measure}-${boundary}-boundary-descriptive`, found(...polyps)).code,
      )

    it.each(sites)('in the %s', (site, flexure, sigmoid) => {
      expect(both(cecal(4, { histology, site }))).toEqual([flexure, sigmoid])
      // A polyp of another class does not tell where this one lay.
      expect(both(cecal(4, { histology, site }), cecal(4, { histology: another }))).toEqual([flexure, sigmoid])
    })

    it('one that is certain outweighs one without a site', () => {
      expect(both(cecal(4, { histology, site: undefined }), cecal(4, { histology }))).toEqual(['met', 'met'])
      const rectal = cecal(4, { histology, site: 'rectum' })
      expect(both(cecal(4, { histology, site: undefined }), rectal)).toEqual(['not-recorded', 'not-recorded'])
    })
  })
})

describe('clinically significant serrated polyps', () => {
  const of = (...polyps: Polyp[]) => found(...polyps)
  const hyper = (millimetres: number, site: Polyp['site']) => cecal(millimetres, { ...hyperplastic, site })
  it.each<[what: string, facts: Facts, answer: AnswerCode]>([
    [
      'a rectal sessile serrated lesion of 2 mm',
      of(cecal(2, { histology: 'sessile-serrated-lesion', site: 'rectum' })),
      'met',
    ],
    [
      'a traditional serrated adenoma',
      of(cecal(2, { histology: 'traditional-serrated-adenoma', site: 'rectum' })),
      'met',
    ],
    ['hyperplastic, rectal, 10 mm', of(hyper(10, 'rectum')), 'met'],
    ['hyperplastic, rectal, 9 mm', of(hyper(9, 'rectum')), 'not-met'],
    ['hyperplastic, caecal, 6 mm', of(hyper(6, 'caecum')), 'met'],
    ['hyperplastic, caecal, 5 mm', of(hyper(5, 'caecum')), 'not-met'],
    ['hyperplastic, splenic flexure, 9 mm', of(hyper(9, 'splenic-flexure')), 'not-met'],
    ['hyperplastic, 7 mm, somewhere', of(cecal(7, { ...hyperplastic, site: undefined })), 'not-recorded'],
    ['hyperplastic, 5 mm, somewhere', of(cecal(5, { ...hyperplastic, site: undefined })), 'not-met'],
    ['hyperplastic, 10 mm, somewhere', of(cecal(10, { ...hyperplastic, site: undefined })), 'met'],
    ['hyperplastic, caecal, no size', of({ ...unsized, ...hyperplastic }), 'not-recorded'],
    ['a large adenoma', of(cecal(30)), 'not-met'],
    ['a large polyp lost', of(cecal(30, lost)), 'not-met'],
    [
      'sessile serrated by count alone',
      { ...of(cecal(3)), polyps: undefined, sessileSerratedFound: true, sessileSerratedCount: 1 },
      'met',
    ],
    [
      'sessile serrated, another report never came',
      of(cecal(3, { histology: 'sessile-serrated-lesion' }), cecal(3, { histology: undefined })),
      'met',
    ],
    [
      'whether one was sessile serrated is open',
      { ...of(hyper(3, 'rectum')), sessileSerratedFound: undefined, sessileSerratedCount: undefined },
      'not-recorded',
    ],
  ])('%s', (_, facts, answer) => {
    expect(answerTo('clinically-significant-serrated-detection-rate-descriptive', facts).code).toBe(answer)
  })
})
