import { describe, expect, it } from 'vitest'
import type { Source } from '../../../src/config.ts'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { feedKinds } from '../../../src/record/field.ts'
import { wilsonInterval } from '../../../src/statistics/wilson-interval.ts'
import { answerRow } from '../../../src/tally/answer-row.ts'
import { tally } from '../../../src/tally/tally.ts'
import { northmoor } from '../../stories/northmoor.ts'
import { measureOf } from '../measure-of.ts'
import { asked } from './asked.ts'
import { examined } from './found-and-advised.ts'

const rate = measureOf('post-colonoscopy-cancer-rate-3-year-weo-2018')
const cases = measureOf('post-colonoscopy-cancer-cases-3-year-uk-2016')

/** The invented unit, of which a register tells the cancers. */
const registered: Source = { ...northmoor, eventsKnownBy: 'register' }

const none = { cancerWithinSixMonths: false, laterColorectalCancer: false } as const
/** A cancer at the examination leaves open whether a later one is another. */
const detected = { cancerWithinSixMonths: true } as const
const laterOn = (day: number) =>
  ({ cancerWithinSixMonths: false, laterColorectalCancer: true, laterColorectalCancerDay: day }) as const

function report(
  records: readonly Colonoscopy[],
  { measure = rate, date = '2026-03-10', asOf = '2031-01-01', source = registered } = {},
) {
  const instant = Date.parse(`${asOf}T12:00:00Z`)
  const rows = records.map((record, index) =>
    answerRow(
      { record: { ...record, procedure: `Procedure/${index}`, operator: 'o', unit: 'u' }, date, seen: [] } as never,
      [measure],
      source,
      instant,
    ),
  )
  return tally(
    {
      measure: measure.definition,
      index: 0,
      period: { start: '2026-01-01', end: '2026-12-31' },
      asOf: new Date(instant).toISOString(),
      asOfDate: asOf,
    },
    rows,
    [source],
  )
}

// Burr, BMJ 2019;367:l6090: counts; Wilson limits worked out from them by the formula of 1927, to four digits.
describe('published counts', () => {
  it.each([
    ['England, all providers', 9_317, 126_152, 0.07386, 0.0724, 0.0753],
    ['screening programme', 593, 16_640, 0.03564, 0.0329, 0.0386],
    ['other providers', 187, 2_009, 0.09308, 0.0811, 0.1066],
  ])('%s: %i of %i', (_, after, all, share, lower, upper) => {
    const missed = examined([], laterOn(700))
    const found = examined([], detected)
    const { whole } = report(Array.from({ length: all }, (__, index) => (index < after ? missed : found)))
    expect(whole.settled).toMatchObject({ met: after, notMet: all - after, denominator: all })
    expect(whole.score).toBeCloseTo(share, 5)
    const interval = wilsonInterval(whole.settled.met, whole.settled.denominator)
    expect(interval.lower).toBeCloseTo(lower, 4)
    expect(interval.upper).toBeCloseTo(upper, 4)
    // What is shown is the exact interval, as of any measure with an event window; it is as wide to the third digit.
    expect(whole.interval?.lower).toBeCloseTo(lower, 2)
    expect(whole.interval?.upper).toBeCloseTo(upper, 2)
  })
})

// World Endoscopy Organization, Gastroenterology 2018;155:909: after ÷ (after + detected), 6 to 36 months after.
describe('who is a cancer after colonoscopy', () => {
  it.each<[string, Partial<Colonoscopy>, string]>([
    ['no cancer', none, 'out'],
    ['at the examination or within six months', detected, 'not-met'],
    ['day 184', laterOn(184), 'met'],
    ['day 1,096', laterOn(1096), 'met'],
    ['day 1,097', laterOn(1097), 'out'],
    ['at an unknown day', { ...laterOn(1), laterColorectalCancerDay: undefined }, 'eligibility-not-recorded'],
    ['within six months unknown', { laterColorectalCancer: false }, 'eligibility-not-recorded'],
    ['later unknown, none within six months', { cancerWithinSixMonths: false }, 'eligibility-not-recorded'],
    ['later, within six months unknown', { ...laterOn(400), cancerWithinSixMonths: undefined }, 'not-recorded'],
    ['earlier cancer', { ...detected, earlierColorectalCancer: true }, 'excluded'],
    ['earlier cancer unknown', { ...detected, earlierColorectalCancer: undefined }, 'not-met'],
    ['in colitis', { ...laterOn(400), inflammatoryBowelDisease: true }, 'met'],
  ])('%s', (_, more, code) => {
    expect(asked(rate, examined([], more)).answer.code).toBe(code)
  })

  it('cancers in colitis and in syndromes are counted beside, of both kinds', () => {
    const beside = (more: Partial<Colonoscopy>) => asked(rate, examined([], more)).beside
    expect(beside({ ...laterOn(400), inflammatoryBowelDisease: true })).toEqual([
      'After colonoscopy, in inflammatory bowel disease.',
      'All, in inflammatory bowel disease.',
    ])
    expect(beside({ ...detected, hereditarySyndrome: true })).toEqual(['All, in polyposis or a hereditary syndrome.'])
  })
})

describe('when and for whom', () => {
  const year = [examined([], laterOn(400)), examined([], detected), examined([], none)]

  it('until 1,096 days have passed there is no rate, and the case is on the list for review', () => {
    // 10 March 2026 and 1,096 days are 10 March 2029: the day itself must have passed.
    for (const [asOf, score] of [
      ['2029-03-10', undefined],
      ['2029-03-11', 0.5],
    ] as const) {
      expect(report(year, { asOf }).whole.score).toBe(score)
      expect(report(year, { asOf }).cases).toEqual(['northmoor/Procedure/0'])
      expect(report(year, { asOf, measure: cases }).cases).toEqual(['northmoor/Procedure/0'])
    }
  })

  it('the list is a count without a score', () => {
    const { whole } = report(year, { measure: cases })
    expect(whole.settled).toMatchObject({ met: 1 })
    expect(whole).toMatchObject({ absentBecause: 'no-score' })
  })

  it('nobody has a row of their own', () => {
    expect(report(year).practitioners).toEqual([])
    expect(report(year, { measure: cases }).practitioners).toEqual([])
    expect([rate, cases].map(({ definition }) => definition.attribution)).toEqual(['unit-only', 'unit-only'])
  })

  it('where no source of cancers is declared complete it is not available', () => {
    const source = { ...registered, completeFeeds: feedKinds.filter((kind) => kind !== 'cancers') }
    const { whole } = report(year, { source })
    expect(whole.score).toBeUndefined()
    expect(whole.absentBecause).toBe('not-available')
    expect(whole.apart['not-available']).toBeGreaterThan(0)
  })
})
