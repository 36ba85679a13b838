import { describe, expect, it } from 'vitest'
import type { Colonoscopy, Polyp } from '../../../src/record/colonoscopy.ts'
import { measureOf } from '../measure-of.ts'
import { asked } from './asked.ts'
import { advised, examined, type Found, hyperplastic, sessileSerrated, times, tubular } from './found-and-advised.ts'

// Scope as the three guidelines state it: Gupta, Gastroenterology 2020;158:1131; Hassan, Endoscopy 2020;52:687; Rutter, Gut
// 2020;69:201. Where a guideline leaves something open, the measure's own choice is the source.
const measures = {
  us: measureOf('advised-interval-agreement-us-2020'),
  eu: measureOf('advised-interval-agreement-eu-2020'),
  uk: measureOf('advised-interval-agreement-uk-2020'),
}
type Guideline = keyof typeof measures
const all: readonly Guideline[] = ['us', 'eu', 'uk']
const codes = (record: Colonoscopy) => all.map((one) => asked(measures[one], record).answer.code)
const answers = (found: readonly Found[], more: Partial<Colonoscopy>, months: number | 'none' = 36) =>
  codes(examined(found, { ...advised(months), ...more }))
const threeTimes = <Value>(value: Value): Value[] => [value, value, value]
/** A finding for which all three tables give three years. */
const due = [tubular(12), tubular(4)]

describe('what the tables are not meant for', () => {
  it.each<[string, Partial<Colonoscopy>, string]>([
    ['a known lesion', { referralReason: 'known-lesion' }, 'Out of scope: done for a lesion known before'],
    ['a site check', { referralReason: 'site-check' }, 'Out of scope: done for a lesion known before'],
    ['a lesion known in free text', { referredForKnownLesion: true }, 'Out of scope: done for a lesion known before'],
    ['a known lesion seen again', { knownLesionCount: 1 }, 'Out of scope: done for a lesion known before'],
    ['colitis known before', { inflammatoryBowelDisease: true }, 'Out of scope: inflammatory bowel disease'],
    ['colitis first seen here', { inflammatoryBowelDiseaseSeen: true }, 'Out of scope: inflammatory bowel disease'],
    ['a syndrome', { hereditarySyndrome: true }, 'Out of scope: polyposis or hereditary'],
    ['serrated polyposis', { serratedPolyposis: true }, 'Out of scope: serrated polyposis'],
    ['earlier cancer', { earlierColorectalCancer: true }, 'Out of scope: colorectal cancer before'],
    ['a malignant polyp', { cancerCount: 1 }, 'Out of scope: cancer, or a malignant polyp'],
    ['an incomplete examination', { caecumReached: false }, 'Not assessable: the examination was incomplete'],
    ['a segment below 2', { segmentsAllAtLeast2: false }, 'Not assessable: preparation'],
    ['stopped for stool', { stoppedForPreparation: true }, 'Not assessable: preparation'],
    ['a poor grade', { preparationScale: 'grade', preparationGrade: 'poor' }, 'Not assessable: preparation'],
    ['stated inadequate', { preparationScale: 'stated-level', preparationLevel: 'inadequate' }, 'Not assessable: prep'],
    ['a polyp without histology', { polypsWithoutObtainableHistology: 1 }, 'Not assessable: histology of a polyp can'],
    [
      'a report that never came',
      { pathology: 'missing', adviceAfterPathology: undefined },
      'Not assessable: histology',
    ],
    ['a report nobody can read', { pathology: 'unreadable' }, 'Not assessable: histology that was sent for'],
    ['advice before the histology', { adviceAfterPathology: false }, 'Not assessable: the latest advice is older'],
  ])('%s: excluded, with its reason, whatever was advised', (_, more, reason) => {
    for (const months of [36, 60, 'none'] as const) {
      expect(answers(due, more, months)).toEqual(threeTimes('excluded'))
      for (const guideline of all) {
        const { beside } = asked(measures[guideline], examined(due, { ...advised(months), ...more }))
        expect(beside).toEqual([expect.stringContaining(reason)])
      }
    }
  })

  it('a limited examination is out', () => {
    expect(answers(due, { intent: 'limited' })).toEqual(threeTimes('out'))
  })

  it.each<[string, Partial<Polyp>]>([
    ['biopsied', { handling: 'biopsied' }],
    ['removed incompletely', { clearance: 'incomplete' }],
  ])('an adenoma only %s is not assessable', (_, how) => {
    const record = examined([tubular(12), tubular(4, how)], advised(36))
    expect(codes(record)).toEqual(threeTimes('excluded'))
    expect(asked(measures.uk, record).beside).toEqual([expect.stringContaining('only biopsied, left in place')])
  })

  it('a biopsy of what turns out to be normal, or a small hyperplastic polyp, clears nothing away', () => {
    const normal: Found = { mm: 3, histology: 'other', handling: 'biopsied' }
    expect(answers([...due, normal], {})).toEqual(threeTimes('met'))
    const small = hyperplastic(4, { handling: 'biopsied', site: 'rectum' })
    expect(answers([...due, small], {})).toEqual(threeTimes('met'))
    // In the UK a hyperplastic polyp beyond the rectum is a premalignant polyp.
    const proximal = hyperplastic(4, { handling: 'biopsied', site: 'ascending' })
    expect(answers([...due, proximal], {})).toEqual(['met', 'met', 'excluded'])
  })

  it('a relative with cancer, and a flood of serrated polyps, are outside the US table alone', () => {
    expect(answers(due, { familyHistoryOfColorectalCancer: true })).toEqual(['excluded', 'met', 'met'])
    expect(answers(times(21, hyperplastic(3)), {}, 120)[0]).toBe('excluded')
    expect(answers(times(20, hyperplastic(3)), {}, 120)[0]).toBe('met')
    expect(answers(times(11, sessileSerrated(3)), {}, 36)[0]).toBe('excluded')
    expect(answers(times(10, sessileSerrated(3)), {}, 36)[0]).toBe('met')
  })

  it('nothing found under 45 is outside the US row for a normal examination', () => {
    expect(answers([], { age: 44 }, 'none')).toEqual(['excluded', 'met', 'met'])
    expect(answers([], { age: 45 }, 'none')).toEqual(['not-met', 'met', 'met'])
    expect(answers([tubular(12)], { age: 44 })[0]).toBe('met')
  })
})

describe('surveillance examinations', () => {
  // Second surveillance, US, from memory: normal 10 or 5 years and 1 to 2 small 7-10 or 5, by the baseline; 3 to 4 small 3-5 and
  // high risk 3 whatever the baseline. Europe, read: any qualifying polyp 3 years, else by how many came before.
  it.each<[string, readonly Found[], number, string, string, string]>([
    ['nothing', [], 120, 'excluded', 'excluded', 'not-met'],
    ['two small adenomas', times(2, tubular(4)), 84, 'excluded', 'excluded', 'not-met'],
    ['three small adenomas', times(3, tubular(4)), 48, 'met', 'excluded', 'not-met'],
    ['two small sessile serrated lesions', times(2, sessileSerrated(4)), 60, 'excluded', 'excluded', 'not-met'],
    ['a 12 mm and a small adenoma', due, 36, 'met', 'met', 'met'],
    ['a 25 mm adenoma piecemeal', [tubular(25, { resection: 'piecemeal' })], 6, 'met', 'met', 'met'],
  ])('%s: assessed where the earlier findings do not matter', (_, found, months, us, eu, uk) => {
    for (const more of [{ referralReason: 'surveillance' as const }, { earlierAdenoma: true }])
      expect(answers(found, more, months)).toEqual([us, eu, uk])
  })
})

describe('what is not recorded', () => {
  it.each<[string, Partial<Colonoscopy>]>([
    ['the reason', { referralReason: undefined }],
    ['whether the caecum was reached', { caecumReached: undefined }],
    ['preparation', { preparationScale: undefined, segmentsAllAtLeast2: undefined }],
    ['one segment of it', { segmentsAllAtLeast2: undefined }],
  ])('%s: whether the table applies is not recorded', (_, more) => {
    expect(answers(due, more)).toEqual(threeTimes('eligibility-not-recorded'))
  })

  it.each<[string, Partial<Colonoscopy>]>([
    ['the advice', { advice: undefined, advisedIntervalMonths: undefined, adviceAfterPathology: undefined }],
    ['the interval of a repeat', { advisedIntervalMonths: undefined }],
    ['the interval beside a clinic review', { advice: 'clinic-review', advisedIntervalMonths: undefined }],
    ['whether the advice came after the histology', { adviceAfterPathology: undefined }],
    ['the state of pathology', { pathology: undefined }],
    ['the number of polyps', { polypCount: undefined, polyps: undefined }],
    ['the polyps one by one', { polyps: undefined }],
    ['the number of adenomas', { adenomaCount: undefined }],
    ['the number of cancers', { cancerCount: undefined }],
    ['polyps that can have no histology', { polypsWithoutObtainableHistology: undefined }],
  ])('%s: agreement is not recorded', (_, more) => {
    expect(answers(due, more)).toEqual(threeTimes('not-recorded'))
  })

  it('whether a polyp was removed: agreement is not recorded', () => {
    expect(answers([tubular(12), tubular(4, { handling: undefined })], {})).toEqual(threeTimes('not-recorded'))
  })

  it('more diagnoses than polyps are a contradiction, of which nothing is concluded', () => {
    expect(answers(due, { adenomaCount: 3 })).toEqual(threeTimes('not-recorded'))
  })

  it('a grade of dysplasia decides only where the size does not', () => {
    const small = [tubular(4, { dysplasia: undefined })]
    expect(answers(small, {})).toEqual(['not-recorded', 'not-recorded', 'not-met'])
    expect(answers(small, {}, 48)).toEqual(threeTimes('not-met'))
    expect(answers([tubular(12, { dysplasia: undefined }), tubular(4)], {})).toEqual(threeTimes('met'))
  })

  it('advice that fits every cell still possible agrees, and advice that fits one of them may', () => {
    // Three adenomas: 3 to 5 years, or 3 where one is of high grade or of 10 mm.
    const ungraded = [...times(2, tubular(6)), tubular(6, { dysplasia: undefined })]
    const unsized = {
      ...tubular(6),
      sizeMillimetres: undefined,
      sizeAtLeastMillimetres: undefined,
      sizeAtMostMillimetres: 12,
    }
    const threeSessile = times(3, sessileSerrated(6, { dysplasia: undefined }))
    for (const found of [ungraded, [...times(2, tubular(6)), unsized], threeSessile]) {
      const us = [35, 36, 37, 60, 61].map((months) => answers(found, {}, months)[0])
      expect(us).toEqual(['not-met', 'met', 'not-recorded', 'not-recorded', 'not-met'])
    }
  })

  it('dysplasia of a sessile serrated lesion is not taken to be none', () => {
    const two = times(2, sessileSerrated(6, { dysplasia: undefined }))
    expect(answers(two, {})).toEqual(threeTimes('not-recorded'))
    expect(answers(times(2, sessileSerrated(6, { dysplasia: 'low-grade' })), {})).toEqual(threeTimes('met'))
  })

  it('bounds of a size are enough where they decide', () => {
    const atMost = (mm: number): Found => ({
      ...tubular(mm),
      sizeMillimetres: undefined,
      sizeAtLeastMillimetres: undefined,
      sizeAtMostMillimetres: mm,
    })
    expect(answers([atMost(9)], {}, 84)[0]).toBe('met')
    expect(answers([atMost(10)], {}, 84)[0]).toBe('not-recorded')
    const atLeast = { ...tubular(10), sizeMillimetres: undefined, sizeAtMostMillimetres: undefined }
    // From 10 mm on three years, but in one piece: never the six months of a piecemeal 20 mm.
    expect(answers([atLeast], {})[0]).toBe('met')
    expect(answers([{ ...atLeast, resection: undefined }], {})[0]).toBe('not-recorded')
  })

  it('a biopsied hyperplastic polyp that may be small is not known to be left uncleared', () => {
    const bounded = (atLeast: number | undefined, atMost: number | undefined): Found => ({
      ...hyperplastic(3, { handling: 'biopsied', site: 'rectum' }),
      sizeMillimetres: undefined,
      sizeAtLeastMillimetres: atLeast,
      sizeAtMostMillimetres: atMost,
    })
    expect(answers([...due, bounded(undefined, 5)], {})).toEqual(threeTimes('met'))
    expect(answers([...due, bounded(undefined, 9)], {})).toEqual(['met', 'met', 'not-recorded'])
    expect(answers([...due, bounded(undefined, 12)], {})).toEqual(threeTimes('not-recorded'))
    expect(answers([...due, bounded(10, undefined)], {})).toEqual(threeTimes('excluded'))
  })

  it('adenomas in one pot are judged by what is known of all of them', () => {
    const pooled = (mm: number): Found => ({ ...tubular(mm), histology: undefined })
    const counts = { adenomaCount: 2, villousAdenomaFound: false, highGradeDysplasiaFound: false }
    expect(answers([pooled(4), pooled(6)], counts, 84)[0]).toBe('met')
    // One polyp of 12 mm may be the one that is an adenoma.
    expect(answers([pooled(12), pooled(6)], { ...counts, adenomaCount: 1, hyperplasticCount: 1 }, 84)[0]).toBe(
      'not-recorded',
    )
  })

  it('a hyperplastic polyp of unknown site may or may not count in the UK', () => {
    const unplaced = hyperplastic(4, { site: undefined })
    const four = times(4, tubular(4))
    expect(answers([...four, unplaced], {})[2]).toBe('not-recorded')
    expect(answers([...four, hyperplastic(4, { site: 'ascending' })], {})[2]).toBe('met')
    expect(answers([...four, hyperplastic(6, { site: 'rectum' })], {})[2]).toBe('met')
    expect(answers([...four, hyperplastic(5, { site: 'rectum' })], {})[2]).toBe('not-met')
  })

  it('history that is not recorded does not exclude, and is counted', () => {
    const { answer } = asked(
      measures.us,
      examined(due, { ...advised(36), inflammatoryBowelDisease: undefined, hereditarySyndrome: undefined }),
    )
    expect(answer).toMatchObject({ code: 'met', exclusionUnrecorded: true })
  })

  it('histology that may still come is waited for, even where a polyp has none', () => {
    const open = { pathology: 'pending', adenomaCount: undefined, adviceAfterPathology: undefined } as const
    expect(answers(due, open)).toEqual(threeTimes('pending'))
    expect(answers(due, { ...open, polypsWithoutObtainableHistology: 1 })).toEqual(threeTimes('pending'))
  })
})

describe('advice', () => {
  it('is compared to the nearest whole month: an interval told in weeks or as a date fits', () => {
    // 156 weeks are 35.87 months; half a month further is another month.
    expect(answers(due, {}, 35.87)).toEqual(threeTimes('met'))
    for (const months of [35.5, 36.499]) expect(answers(due, {}, months)).toEqual(threeTimes('met'))
    for (const months of [35.499, 36.5]) expect(answers(due, {}, months)).toEqual(threeTimes('not-met'))
  })

  it('a clinic review with an interval beside it is that interval', () => {
    expect(answers(due, { advice: 'clinic-review' }, 36)).toEqual(threeTimes('met'))
    expect(answers(due, { advice: 'clinic-review' }, 60)).toEqual(threeTimes('not-met'))
    expect(answers([tubular(4)], { advice: 'clinic-review' }, 120)).toEqual(['met', 'met', 'not-met'])
  })

  it('against a further colonoscopy is excepted from 75 years on where one is due', () => {
    expect(answers(due, { age: 75 }, 'none')).toEqual(threeTimes('excepted'))
    expect(answers(due, { age: 74 }, 'none')).toEqual(threeTimes('not-met'))
    expect(answers(due, { age: 75 }, 60)).toEqual(threeTimes('not-met'))
    expect(answers([tubular(4)], { age: 80 }, 'none')).toEqual(['excepted', 'met', 'met'])
  })

  it('five or ten years agree for the young in the UK, where no surveillance is due', () => {
    for (const months of [60, 120]) {
      expect(answers([tubular(4)], { age: 39 }, months)[2]).toBe('met')
      expect(answers([tubular(4)], { age: 40 }, months)[2]).toBe('not-met')
      expect(answers([tubular(4)], { age: undefined }, months)[2]).toBe('not-recorded')
    }
    expect(answers([tubular(4)], { age: 39 }, 36)[2]).toBe('not-met')
    expect(answers(due, { age: 39 }, 60)[2]).toBe('not-met')
  })
})

describe('large polyps', () => {
  const large = (more: Partial<Polyp>) => [tubular(20, more)]
  it.each<[string, readonly Found[], number | 'none', string, string, string]>([
    ['sessile, in one piece, three years', large({}), 36, 'met', 'met', 'met'],
    ['pedunculated, in one piece, none further', large({ shape: 'pedunculated' }), 'none', 'not-met', 'not-met', 'met'],
    [
      'pedunculated, piecemeal, six months',
      large({ shape: 'pedunculated', resection: 'piecemeal' }),
      6,
      'met',
      'met',
      'not-met',
    ],
    ['sessile, piecemeal, two months', large({ resection: 'piecemeal' }), 2, 'not-met', 'not-met', 'met'],
    ['sessile, piecemeal, three months', large({ resection: 'piecemeal' }), 3, 'not-met', 'met', 'met'],
    [
      'removed in an unknown way, three years',
      large({ resection: undefined }),
      36,
      'not-recorded',
      'not-recorded',
      'not-recorded',
    ],
    ['of unknown shape, in one piece, three years', large({ shape: undefined }), 36, 'met', 'met', 'not-recorded'],
    [
      'a 20 mm sessile serrated lesion piecemeal, six months',
      [sessileSerrated(20, { resection: 'piecemeal' })],
      6,
      'met',
      'met',
      'met',
    ],
    ['19 mm piecemeal, three years', [tubular(19, { resection: 'piecemeal' })], 36, 'met', 'met', 'not-met'],
  ])('%s', (_, found, months, us, eu, uk) => {
    expect(answers(found, {}, months)).toEqual([us, eu, uk])
  })
})
