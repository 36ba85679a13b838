import { describe, expect, it } from 'vitest'
import { clopperPearsonInterval } from '../../../src/statistics/clopper-pearson-interval.ts'
import { measureOf } from '../measure-of.ts'
import { reportOn } from './asked.ts'
import { followedBy } from './uneventful.ts'

const perThousand = (value = Number.NaN) => value * 1000
const perforated = (perforationDay: number) => followedBy({ perforation: true, perforationDay })
const bled = (bleedingDay: number) => followedBy({ bleeding: true, bleedingDay, bleedingSeverity: 'moderate' })
const nothing = followedBy({})

// Exact limits below: SciPy 1.17.1, scipy.stats.beta.ppf, as Clopper and Pearson give them.
describe('the UK audit of 2011 (Gut 2013;62:242): 20,085 colonoscopies, 8 perforations, 52 significant bleedings', () => {
  const audit = [
    [8, perforated(2)],
    [52, bled(5)],
    [20_025, nothing],
  ] as const

  it('is 0.40 perforations per 1,000, and up to 0.78 cannot be ruled out', () => {
    for (const days of [7, 30]) {
      const { whole } = reportOn(`perforation-rate-${days}-day-descriptive`, audit)
      expect(whole.settled).toMatchObject({ denominator: 20_085, met: 8, notMet: 20_077 })
      expect(perThousand(whole.score)).toBeCloseTo(0.4, 2)
      expect(whole.interval?.method).toContain('exact')
      expect(perThousand(whole.interval?.lower)).toBeCloseTo(0.17198, 5)
      expect(perThousand(whole.interval?.upper)).toBeCloseTo(0.78467, 5)
    }
  })

  it('is 52 bleedings; among how many polypectomies is not printed, so here every examination had one', () => {
    for (const severity of ['', 'intermediate-or-worse-']) {
      const { whole } = reportOn(`post-polypectomy-bleeding-rate-${severity}30-day-descriptive`, audit)
      expect(whole.settled).toMatchObject({ denominator: 20_085, met: 52 })
      expect(perThousand(whole.interval?.lower)).toBeCloseTo(1.93417, 5)
      expect(perThousand(whole.interval?.upper)).toBeCloseTo(3.39376, 5)
    }
  })
})

// 121,626 outpatients after a positive test, doi 10.1055/a-1381-7149: the abstract prints rates and windows, not counts. Ten
// thousand are built to each printed rate, one of the events on the last day, with one more a day too late.
describe('Ontario', () => {
  it.each([
    ['2008 to 2012', 6, 0.6],
    ['2013 to 2017', 4, 0.4],
  ])('%s: perforations to day 7', (_, events, rate) => {
    const built = [
      [events - 1, perforated(1)],
      [1, perforated(7)],
      [1, perforated(8)],
      [10_000 - events - 1, nothing],
    ] as const
    expect(perThousand(reportOn('perforation-rate-7-day-descriptive', built).whole.score)).toBeCloseTo(rate, 9)
    const month = reportOn('perforation-rate-30-day-descriptive', built).whole
    expect(perThousand(month.score)).toBeCloseTo(rate + 0.1, 9)
  })

  it('4.3 bleedings per 1,000 to day 14', () => {
    const built = [
      [42, bled(3)],
      [1, bled(14)],
      [1, bled(15)],
      [9_956, nothing],
    ] as const
    const within = (days: number) => reportOn(`post-polypectomy-bleeding-rate-${days}-day-descriptive`, built).whole
    expect(perThousand(within(14).score)).toBeCloseTo(4.3, 9)
    expect(perThousand(within(7).score)).toBeCloseTo(4.2, 9)
    expect(perThousand(within(30).score)).toBeCloseTo(4.4, 9)
  })
})

it('the English programme’s 0.09 per cent lies below its limit of 1 in 1,000, and ten thousand do not prove it', () => {
  const id = 'perforation-rate-30-day-uk-screening-programme'
  const { whole } = reportOn(id, [
    [9, perforated(4)],
    [9_991, nothing],
  ])
  const limit = measureOf(id).definition.standard?.minimum ?? Number.NaN
  expect(whole.score).toBeCloseTo(0.0009, 9)
  expect(whole.score).toBeLessThan(limit)
  expect(perThousand(whole.interval?.upper)).toBeCloseTo(1.70779, 5)
  expect(whole.interval?.upper).toBeGreaterThan(limit)
})

describe('no perforation at all', () => {
  // Two-sided: 1 - 0.025^(1/n). One-sided 95 %: 2.99 per 1,000 of 1,000, 1.00 of 3,000, near 3/n (Hanley and Lippman-Hand, JAMA 1983).
  it.each([
    [1000, 3.68208, 2.99],
    [3000, 1.22887, 1.0],
  ])('in %i examinations', (trials, upper, oneSided) => {
    const { whole } = reportOn('perforation-rate-30-day-us-2015', [[trials, nothing]])
    expect(whole.score).toBe(0)
    expect(whole.interval?.lower).toBe(0)
    expect(perThousand(whole.interval?.upper)).toBeCloseTo(upper, 5)
    expect(perThousand(1 - 0.025 ** (1 / trials))).toBeCloseTo(upper, 5)
    expect(perThousand(clopperPearsonInterval(0, trials, 0.9).upper)).toBeCloseTo(oneSided, 2)
  })
})

it('one of forty: 2.5 per cent, exact 0.06 to 13.16 (R 4.2.2, binom.test(1, 40))', () => {
  const { whole } = reportOn('perforation-rate-7-day-descriptive', [
    [1, perforated(0)],
    [39, nothing],
  ])
  expect(whole.score).toBe(0.025)
  expect(whole.interval?.lower).toBeCloseTo(0.0006, 4)
  expect(whole.interval?.upper).toBeCloseTo(0.1316, 4)
})

it('331,880 outpatients with 5,412 unplanned visits in 7 days: 16.3 per 1,000 (CBE 2539, Gastroenterology 2016;150:103)', () => {
  const visited = followedBy({ hospitalVisitCount: 1, visits: [{ day: 3, planned: false }], unplannedVisit: true })
  const { whole, practitioners } = reportOn('unplanned-hospital-visit-rate-7-day-descriptive', [
    [5_412, visited],
    [326_468, nothing],
  ])
  expect(whole.settled).toMatchObject({ denominator: 331_880, met: 5_412 })
  expect(perThousand(whole.score)).toBeCloseTo(16.3, 1)
  expect(practitioners).toEqual([])
})
