import { describe, expect, it } from 'vitest'
import { truthAnswer, truthPersons } from '../../../src/local/demo/truth.ts'
import type { TruthPolyp, TruthRow } from '../../../src/local/demo/truth-row.ts'
import { intervalCases } from '../../measures/follow-up/interval-cases.ts'
import { plain } from '../plain-row.ts'

// Expected from the definitions of the measures; the seventeen findings from the tables of the guidelines.
const told = (measure: string, facts: Partial<TruthRow>) => truthAnswer(measure, { ...plain, ...facts }).answer
const guidelines = ['us', 'eu', 'uk'] as const
const agrees = (facts: Partial<TruthRow>) =>
  guidelines.map((one) => told(`advised-interval-agreement-${one}-2020`, facts))
const only = (guideline: 'us' | 'eu' | 'uk', facts: Partial<TruthRow>) =>
  told(`advised-interval-agreement-${guideline}-2020`, facts)

const removed = (nature: TruthPolyp['nature'], size: number, more: Partial<TruthPolyp> = {}): TruthPolyp => ({
  site: 'transverse',
  sizeMillimetres: size,
  shape: 'sessile',
  handling: 'removed',
  resection: 'en-bloc',
  retrieval: 'retrieved',
  nature,
  histology: nature,
  ...more,
})
const adenoma = (size: number, more: Partial<TruthPolyp> = {}) =>
  removed('conventional-adenoma', size, { dysplasia: 'low-grade', villous: false, ...more })

/** True with one, unknown where none is known to be and any is not told. */
const any = (traits: readonly (boolean | undefined)[]) =>
  traits.includes(true) ? true : traits.includes(undefined) ? undefined : false

/** Removed and read, and advice given afterwards. */
function read(
  polyps: readonly TruthPolyp[],
  advised: number | 'none',
  more: Partial<TruthRow> = {},
): Partial<TruthRow> {
  const adenomas = polyps.filter(({ histology }) => histology === 'conventional-adenoma')
  return {
    polyps,
    pathology: polyps.length > 0 ? 'final' : 'not-sent',
    confirmedAdenomas: adenomas.length,
    villousAdenomaFound: any(adenomas.map(({ villous }) => villous)),
    highGradeDysplasiaFound: any(adenomas.map(({ dysplasia }) => dysplasia && dysplasia === 'high-grade')),
    adviceAfterPathology: true,
    ...(advised === 'none'
      ? { advice: 'no-further-colonoscopy' }
      : { advice: 'repeat-colonoscopy', advisedIntervalMonths: advised }),
    ...more,
  }
}
const three = (one: TruthPolyp) => [one, one, one]

/** A row of the truth never says that a sessile serrated lesion is without dysplasia, so small ones decide nothing there. */
const decided = intervalCases.filter(({ found }) =>
  found.every(({ histology, mm }) => histology !== 'sessile-serrated-lesion' || mm >= 10),
)

describe.each(guidelines)('the table of %s 2020', (guideline) => {
  it.each(decided)('$name', ({ found, more, [guideline]: cell }) => {
    const polyps = found.map(({ mm, histology = 'other', site = 'transverse', shape, resection, dysplasia, villous }) =>
      removed(histology, mm, {
        site: site === 'rectum' ? site : 'transverse',
        ...(shape && { shape }),
        ...(resection && { resection }),
        ...(dysplasia && dysplasia !== 'none' && { dysplasia }),
        ...(villous !== undefined && { villous }),
      }),
    )
    for (const advised of [...Array.from({ length: 130 }, (_, index) => index + 1), 'none' as const]) {
      const facts = read(
        polyps,
        advised,
        more && { preparation: { kind: 'segments', left: 3, transverse: 1, right: 3 } },
      )
      const fits =
        cell === 'none'
          ? advised === 'none' || (guideline === 'eu' && advised === 120)
          : cell !== 'not applicable' && advised !== 'none' && cell[0] <= advised && advised <= cell[1]
      const expected = cell === 'not applicable' ? 'excluded' : fits ? 'met' : 'notMet'
      expect(only(guideline, facts), `${advised}`).toBe(expected)
    }
  })
})

describe('advised intervals, where not all is known', () => {
  it('advice agrees where it fits every cell still possible, and disagrees where it fits none', () => {
    const ungraded = [adenoma(6), adenoma(6), removed('conventional-adenoma', 6, { villous: false })]
    const us = [35, 36, 48, 72].map((months) => only('us', read(ungraded, months)))
    expect(us).toEqual(['notMet', 'met', 'notRecorded', 'notMet'])
    const { sizeMillimetres: _, ...unsized } = adenoma(6)
    // In the UK one of 20 mm asks for three years unless it is on a stalk.
    expect(agrees(read([unsized], 36))).toEqual(['notRecorded', 'notRecorded', 'notRecorded'])
    const onStalk = { ...unsized, shape: 'pedunculated' } as const
    expect(agrees(read([onStalk], 36))).toEqual(['notRecorded', 'notRecorded', 'notMet'])
    expect(agrees(read([{ ...unsized, sizeAtMostMillimetres: 5 }], 84))).toEqual(['met', 'notMet', 'notMet'])
    expect(only('us', read(three(removed('sessile-serrated-lesion', 4)), 36))).toBe('met')
    expect(only('us', read(three(removed('sessile-serrated-lesion', 4)), 60))).toBe('notRecorded')
  })

  it('a hyperplastic polyp of the rectum without a size may count in the UK, or not', () => {
    const { sizeMillimetres: _, ...unsized } = removed('hyperplastic', 4, { site: 'rectum' })
    const four = [adenoma(4), adenoma(4), adenoma(4), adenoma(4)]
    expect(only('uk', read([...four, unsized], 36))).toBe('notRecorded')
    expect(only('uk', read([...four, { ...unsized, site: 'sigmoid' }], 36))).toBe('met')
    expect(only('uk', read([...four, { ...unsized, sizeAtMostMillimetres: 5 }], 'none'))).toBe('met')
  })

  it('a clinic review says nothing, except with an interval beside it', () => {
    const review = read([adenoma(12), adenoma(4)], 36, { advice: 'clinic-review' })
    expect(agrees({ ...review, advisedIntervalMonths: undefined })).toEqual([
      'notRecorded',
      'notRecorded',
      'notRecorded',
    ])
    expect(agrees(review)).toEqual(['met', 'met', 'met'])
  })

  it('advice that nobody recorded, or that may be older than the histology, answers nothing', () => {
    const due = read([adenoma(12), adenoma(4)], 36)
    expect(agrees({ ...due, adviceAfterPathology: undefined })).toEqual(['notRecorded', 'notRecorded', 'notRecorded'])
    expect(agrees({ ...due, adviceAfterPathology: false })).toEqual(['excluded', 'excluded', 'excluded'])
    expect(agrees({ ...due, pathology: 'pending' })).toEqual(['pending', 'pending', 'pending'])
  })
})

describe('advised intervals, scope', () => {
  const due = read([adenoma(12), adenoma(4)], 36)

  it.each<[string, Partial<TruthRow>, readonly string[]]>([
    ['a site check', { reason: 'site-check' }, ['excluded', 'excluded', 'excluded']],
    ['a lesion seen again', { knownLesion: true }, ['excluded', 'excluded', 'excluded']],
    ['colitis seen that day', { inflammatoryBowelDiseaseSeen: true }, ['excluded', 'excluded', 'excluded']],
    ['a hereditary syndrome', { hereditarySyndrome: true }, ['excluded', 'excluded', 'excluded']],
    ['a cancer before', { earlierColorectalCancer: true }, ['excluded', 'excluded', 'excluded']],
    ['lost reports', { pathology: 'missing' }, ['excluded', 'excluded', 'excluded']],
    ['an incomplete examination', { extent: 'sigmoid', photographs: [] }, ['excluded', 'excluded', 'excluded']],
    ['a relative with cancer', { familyHistoryOfColorectalCancer: true }, ['excluded', 'met', 'met']],
    ['surveillance', { reason: 'surveillance' }, ['met', 'met', 'met']],
    ['a limited examination', { intent: 'limited' }, ['out', 'out', 'out']],
  ])('%s', (_, facts, expected) => {
    expect(agrees({ ...due, ...facts })).toEqual(expected)
  })

  it('no reason stated leaves open whether it is in', () => {
    const { reason: _, ...unexplained } = plain
    const answer = truthAnswer('advised-interval-agreement-eu-2020', { ...unexplained, ...due }).answer
    expect(answer).toBe('eligibilityNotRecorded')
  })

  it('fair preparation is enough in the US', () => {
    const { preparation: _, ...unscored } = plain
    const graded: TruthRow = { ...unscored, ...due, preparationGrade: 'fair' }
    const told = guidelines.map((one) => truthAnswer(`advised-interval-agreement-${one}-2020`, graded).answer)
    expect(told).toEqual(['met', 'excluded', 'excluded'])
  })

  it('a polyp that was biopsied, left, lost or not cleared is not assessable, unless it is harmless', () => {
    const withOne = (more: Partial<TruthPolyp>) => agrees(read([adenoma(12), adenoma(4), adenoma(4, more)], 36))
    expect(withOne({ handling: 'biopsied' })).toEqual(['excluded', 'excluded', 'excluded'])
    expect(withOne({ clearance: 'incomplete' })).toEqual(['excluded', 'excluded', 'excluded'])
    for (const handling of ['removed', 'left'] as const) {
      const unread: TruthPolyp = { site: 'sigmoid', handling, retrieval: 'not-retrieved', nature: 'other' }
      expect(agrees(read([adenoma(12), adenoma(4), unread], 36))).toEqual(['excluded', 'excluded', 'excluded'])
    }
    const harmless = removed('hyperplastic', 4, { handling: 'biopsied' })
    expect(agrees(read([adenoma(12), adenoma(4), harmless], 36))).toEqual(['met', 'met', 'excluded'])
    expect(agrees(read([adenoma(12), adenoma(4), { ...harmless, site: 'rectum' }], 36))).toEqual(['met', 'met', 'met'])
  })

  it('under surveillance a small finding depends on the earlier ones, but not in the UK', () => {
    const small = read([adenoma(4)], 'none', { reason: 'surveillance' })
    expect(agrees(small)).toEqual(['excluded', 'excluded', 'met'])
    expect(agrees({ ...small, reason: 'symptoms', earlierAdenoma: true })).toEqual(['excluded', 'excluded', 'met'])
    const four = read([...three(adenoma(4)), adenoma(4)], 60, { reason: 'surveillance' })
    expect(agrees(four)).toEqual(['met', 'excluded', 'notMet'])
  })

  it('nothing found in the young is no screening in the US; in the UK five or ten years pass', () => {
    const young = [44, 39].map((age) => agrees(read([], 60, { age })))
    expect(young).toEqual([
      ['excluded', 'notMet', 'notMet'],
      ['excluded', 'notMet', 'met'],
    ])
  })

  it('from 75 on none further is excepted where an interval is due', () => {
    const none = [74, 75].map((age) => agrees(read([adenoma(12), adenoma(4)], 'none', { age })))
    expect(none).toEqual([
      ['notMet', 'notMet', 'notMet'],
      ['excepted', 'excepted', 'excepted'],
    ])
  })
})

describe('government measures', () => {
  it('ten years after normal screening from 45 to 75, nothing taken', () => {
    const id = 'interval-after-normal-screening-us-government-2024'
    const afterNormal = (advised: number | 'none', more: Partial<TruthRow> = {}) => told(id, read([], advised, more))
    expect([119, 120, 130, 'none' as const].map((one) => afterNormal(one))).toEqual(['notMet', 'met', 'met', 'notMet'])
    expect([44, 45, 65, 66, 75, 76].map((age) => afterNormal(60, { age }))).toEqual([
      'out',
      'notMet',
      'notMet',
      'excepted',
      'excepted',
      'out',
    ])
    expect(afterNormal(60, { earlierAdenoma: true })).toBe('excepted')
    expect(afterNormal(120, { randomBiopsies: 1 })).toBe('out')
    expect(afterNormal(120, { advice: undefined, advisedIntervalMonths: undefined })).toBe('notRecorded')
  })

  it('three years to the day after an adenoma', () => {
    const id = 'surveillance-interval-after-adenoma-us-government-2023'
    const before: Partial<TruthRow> = { reason: 'surveillance', earlierAdenoma: true }
    const since = [35.9, 36, undefined].map((months) => told(id, { ...before, monthsSinceLastColonoscopy: months }))
    expect(since).toEqual(['notMet', 'met', 'notRecorded'])
    const soon = { ...before, monthsSinceLastColonoscopy: 12 }
    expect(told(id, { ...soon, lastExaminationInadequate: true })).toBe('excepted')
    expect(told(id, { ...soon, earlierAdenoma: undefined })).toBe('eligibilityNotRecorded')
    expect(told(id, { ...soon, stopped: true, extent: 'sigmoid', photographs: [] })).toBe('out')
  })

  it('screening at 86 or older, of all from 45 on', () => {
    const at = [44, 45, 85, 86].map((age) => told('screening-at-86-or-older-us-government-2024', { age }))
    expect(at).toEqual(['out', 'notMet', 'notMet', 'met'])
  })
})

it('cancers from the 184th day to the third year are listed for the unit, once the three years are over', () => {
  const id = 'post-colonoscopy-cancer-cases-3-year-uk-2016'
  const on = (day: number, date: string) =>
    told(id, { date, laterColorectalCancer: true, laterColorectalCancerDay: day })
  expect([183, 184, 1096, 1097].map((day) => on(day, '2023-01-10'))).toEqual(['out', 'met', 'met', 'out'])
  expect(on(184, '2024-01-10')).toBe('pending')
  expect(told(id, {})).toBe('eligibilityNotRecorded')
  expect(truthPersons(id, plain)).toEqual([])
})

it('of the cancers those that came later are the share; one before the examination is excluded', () => {
  const id = 'post-colonoscopy-cancer-rate-3-year-weo-2018'
  const facts: Partial<TruthRow> = { date: '2023-01-10', cancerWithinSixMonths: false }
  const later = { ...facts, laterColorectalCancer: true, laterColorectalCancerDay: 400 }
  expect(told(id, later)).toBe('met')
  expect(told(id, { ...facts, cancerWithinSixMonths: true })).toBe('notMet')
  expect(told(id, { ...later, earlierColorectalCancer: true })).toBe('excluded')
  expect(told(id, { ...later, cancerWithinSixMonths: undefined })).toBe('notRecorded')
})
