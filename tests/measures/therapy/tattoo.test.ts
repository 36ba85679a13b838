import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import { bowelSites } from '../../../src/record/words.ts'
import { answerTo, measureOf } from '../measure-of.ts'
import { found, millimetres, type Sums, sumsOf } from './polyps.ts'

const uk = 'tattoo-rate-uk-2016'
const bySize = 'tattoo-rate-20-mm-and-more-descriptive'
const met: Sums = [1, 1, 0, 0]
const notMet: Sums = [0, 1, 0, 0]
const notRecorded: Sums = [0, 0, 1, 0]
const undecided: Sums = [0, 0, 0, 1]
const out: Sums = [0, 0, 0, 0]
const at = (site: Polyp['site'], size: Polyp, tattooed?: boolean, suspectedCancer?: boolean): Polyp => ({
  ...(site && { site }),
  ...size,
  ...(tattooed !== undefined && { tattooed }),
  ...(suspectedCancer !== undefined && { suspectedCancer }),
})

// UK 2016, read: lesions of 20 mm or more, or suspicious of cancer, outside rectum and caecum; 100 %.
describe('tattoo', () => {
  it.each<[what: string, lesion: Polyp, asWritten: Sums, size: Sums]>([
    ['20 mm, tattooed', at('sigmoid', millimetres(20), true), met, met],
    ['20 mm, not tattooed', at('sigmoid', millimetres(20), false), notMet, notMet],
    ['20 mm, and nothing said of a tattoo', at('sigmoid', millimetres(20)), notRecorded, notRecorded],
    ['19.9 mm, not suspicious', at('sigmoid', millimetres(19.9), false, false), out, out],
    ['19.9 mm, suspicious', at('sigmoid', millimetres(19.9), true, true), met, out],
    ['5 mm, suspicious, not tattooed', at('transverse', millimetres(5), false, true), notMet, out],
    ['5 mm, and nothing said of suspicion', at('transverse', millimetres(5), false), undecided, out],
    ['suspicious, of no stated size', at('transverse', {}, true, true), met, undecided],
    ['not suspicious, of no stated size', at('transverse', {}, true, false), undecided, undecided],
    ['nothing said of size or suspicion', at('transverse', {}, true), undecided, undecided],
    ['above 15 mm, not suspicious', at('sigmoid', { sizeAtLeastMillimetres: 15 }, true, false), undecided, undecided],
    ['above 25 mm', at('sigmoid', { sizeAtLeastMillimetres: 25 }, true), met, met],
    ['30 mm in the rectum', at('rectum', millimetres(30), false, true), out, out],
    ['30 mm in the caecum', at('caecum', millimetres(30), false, true), out, out],
    ['30 mm of no stated site', at(undefined, millimetres(30), true), undecided, undecided],
    ['5 mm of no stated site, not suspicious', at(undefined, millimetres(5), false, false), out, out],
  ])('%s', (_, lesion, asWritten, size) => {
    expect(sumsOf(uk, found(lesion))).toEqual(asWritten)
    expect(sumsOf(bySize, found(lesion))).toEqual(size)
  })

  it('every site belongs, or certainly does not', () => {
    const sums = bowelSites.map((site) => sumsOf(uk, found(at(site, millimetres(30), true))))
    expect(bowelSites.filter((_, index) => sums[index]?.[1] === 0)).toEqual(['anal-canal', 'rectum', 'caecum'])
    expect(sums.every(([, , , open]) => open === 0)).toBe(true)
  })

  it('it does not matter what was done with the lesion, and a single unmarked one counts', () => {
    const big = at('sigmoid', millimetres(25))
    expect(
      sumsOf(
        uk,
        found(
          { ...big, tattooed: true, handling: 'biopsied' },
          { ...big, tattooed: false, handling: 'left' },
          { ...big, tattooed: true, handling: 'removed' },
        ),
      ),
    ).toEqual([2, 3, 0, 0])
  })

  it('no lesion is out; lesions not listed are not recorded; an unrecorded number is undecided', () => {
    expect(answerTo(uk, found()).code).toBe('out')
    expect(answerTo(uk, { polypCount: 2, polyps: undefined }).code).toBe('not-recorded')
    expect(answerTo(uk, { polypCount: undefined }).code).toBe('eligibility-not-recorded')
  })

  it('the standard is 100 % as read; by size alone there is none', () => {
    expect(measureOf(uk).definition.standard).toMatchObject({ minimum: 1, fromMemory: false })
    expect(measureOf(bySize).definition.standard).toBeUndefined()
  })

  it('counts beside a lesion that looked malignant', () => {
    expect(answerTo(uk, found(at('sigmoid', millimetres(8), true, true))).besides).toEqual([0])
    expect(answerTo(uk, found(at('rectum', millimetres(8), true, true))).besides).toBeUndefined()
  })
})
