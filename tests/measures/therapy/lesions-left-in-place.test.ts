import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import { answerTo, measureOf } from '../measure-of.ts'
import { found } from './polyps.ts'
import { resultOf, times } from './result-of.ts'

const both = 'lesions-left-in-place-per-colonoscopy-descriptive'
const onPurpose = 'lesions-left-on-purpose-per-colonoscopy-descriptive'
const lost = 'lesions-not-found-again-per-colonoscopy-descriptive'
const left: Polyp = { handling: 'left' }
const notFoundAgain: Polyp = { handling: 'not-found-again' }
const removed: Polyp = { handling: 'removed' }

type Range = readonly [value: number | undefined, lower: number, upper: number]

// Our own definition: what was left on purpose and what was not found again are classes of their own, and are summed in one.
describe('lesions left in place', () => {
  it.each<[what: string, polyps: Polyp[], sum: Range, purpose: Range, again: Range]>([
    ['nothing found', [], [0, 0, 0], [0, 0, 0], [0, 0, 0]],
    ['one of each', [left, notFoundAgain], [2, 2, 2], [1, 1, 1], [1, 1, 1]],
    ['removed and biopsied', [removed, { handling: 'biopsied' }], [0, 0, 0], [0, 0, 0], [0, 0, 0]],
    ['one of which nobody says', [left, removed, {}], [undefined, 1, 2], [undefined, 1, 2], [undefined, 0, 1]],
  ])('%s', (_, polyps, sum, purpose, again) => {
    for (const [id, [value, lower, upper]] of [
      [both, sum],
      [onPurpose, purpose],
      [lost, again],
    ] as const)
      expect(answerTo(id, found(...polyps))).toMatchObject({
        code: value === undefined ? 'not-recorded' : 'met',
        ...(value !== undefined && { value }),
        lower,
        upper,
      })
  })

  it('polyps that are only counted may all have stayed; an unrecorded number has no bounds', () => {
    const unlisted = { polypsLeftCount: undefined, polypsNotFoundAgainCount: undefined, polyps: undefined }
    expect(answerTo(both, { polypCount: 3, ...unlisted })).toEqual({ code: 'not-recorded', lower: 0, upper: 3 })
    expect(answerTo(both, { polypCount: undefined, ...unlisted })).toEqual({ code: 'not-recorded' })
  })

  it('counts beside the examinations with either', () => {
    expect(answerTo(both, found(left)).besides).toEqual([0])
    expect(answerTo(both, found(notFoundAgain)).besides).toEqual([1])
  })

  it('is lesions per colonoscopy: eight in 100 examinations, one of them with three', () => {
    const { score, settled, besides } = resultOf(both, [
      found(left, left, notFoundAgain),
      ...times(5, found(left)),
      ...times(94, found()),
    ])
    expect(score).toBe(0.08)
    expect(settled).toMatchObject({ valueSum: 8, met: 100 })
    expect(besides).toEqual([6, 1])
  })

  it('has no standard and no better direction', () => {
    for (const id of [both, onPurpose, lost]) {
      const { standard, improvement, scoring } = measureOf(id).definition
      expect({ standard, improvement, scoring }).toEqual({ scoring: 'ratio' })
    }
  })
})
