import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import type { GroupResult } from '../../../src/tally/result.ts'
import { type Facts, figuresOf, found, sized, times } from './examined.ts'

// Records built to published counts; the shares are published, the Wilson limits are derived from the counts alone.
const us = 'adenoma-detection-rate-us-2024'
const polyp = (millimetres: number, rest: Polyp) => sized(millimetres, { handling: 'removed', ...rest })
const small = { dysplasia: 'low-grade', villous: false, histology: 'conventional-adenoma' } as const satisfies Polyp
const adenoma = found(polyp(5, { ...small, site: 'sigmoid' }))
/** So many with an adenoma, of so many. */
const share = (met: number, all: number, facts: Facts = {}) => [
  ...times(met, adenoma, facts),
  ...times(all - met, facts),
]
/** A rate and its limits in per cent, as they are printed. */
const printed = ({ score, interval }: Pick<GroupResult, 'score' | 'interval'>, decimals: number) =>
  [score, interval?.lower, interval?.upper].map((part) => (100 * (part ?? Number.NaN)).toFixed(decimals))

// 430 colonoscopies of one service, J Coloproctol 2021: polyps 201, adenomas 125 (29.1 %; Wilson 24.98 to 33.53), advanced 12,
// proximal serrated 29.
describe('the service of 430 examinations', () => {
  const symptoms: Facts = { referralReason: 'symptoms' }
  const service = [
    ...times(12, found(polyp(14, { ...small, site: 'sigmoid' })), symptoms),
    ...times(113, adenoma, symptoms),
    ...times(29, found(polyp(4, { histology: 'sessile-serrated-lesion', site: 'ascending' })), symptoms),
    ...times(47, found(polyp(2, { histology: 'hyperplastic', site: 'rectum' })), symptoms),
    ...times(229, symptoms),
  ]
  const counted = (id: string) => figuresOf(id, service).whole.settled

  it('found polyps in 201', () => {
    expect(counted('polyp-detection-rate-descriptive')).toMatchObject({ met: 201, notMet: 229 })
    expect(counted('polyp-detection-rate-eu-2017')).toMatchObject({ met: 201, notMet: 229 })
  })

  it.each(['us-2024', 'eu-2017', 'uk-2016', 'with-cancer-us-2024', 'complete-and-prepared-us-2024'])(
    'found adenomas in 125: 29.1 per cent, 24.98 to 33.53 (%s)',
    (standard) => {
      const { whole } = figuresOf(`adenoma-detection-rate-${standard}`, service)
      expect(whole.settled).toMatchObject({ met: 125, notMet: 305 })
      expect(printed(whole, 2)).toEqual(['29.07', '24.98', '33.53'])
    },
  )

  it('found advanced adenomas in 12, adenomas of 10 mm in as many', () => {
    for (const id of [
      'advanced-adenoma-detection-rate-with-villous-descriptive',
      'advanced-adenoma-detection-rate-without-villous-descriptive',
      'adenoma-at-least-10-mm-detection-rate-descriptive',
    ])
      expect(counted(id)).toMatchObject({ met: 12, notMet: 418 })
  })

  it('found proximal serrated polyps in 29', () => {
    for (const boundary of ['splenic-flexure', 'sigmoid'])
      expect(counted(`proximal-serrated-polyp-detection-rate-${boundary}-boundary-descriptive`)).toMatchObject({
        met: 29,
        notMet: 401,
      })
    expect(counted('sessile-serrated-lesion-detection-rate-us-2024')).toMatchObject({ met: 29, notMet: 401 })
  })
})

// English programme, Gut 2012;61:1050: 0.91 adenomas per procedure, 1.94 per positive one, hence 46.9 % pooled; the mean of the
// colonoscopists' own rates was 46.5 %.
describe('the English programme', () => {
  const test: Facts = { referralReason: 'positive-screening-test' }
  const two = found(...Array.from({ length: 2 }, () => polyp(5, { ...small, site: 'sigmoid' })))
  /** 4277 with two adenomas and 273 with one are 8827 adenomas in 4550. */
  const of = (operator: string, twos: number, ones: number, all: number) => [
    ...times(twos, two, test, { operator }),
    ...times(ones, adenoma, test, { operator }),
    ...times(all - twos - ones, test, { operator }),
  ]
  const procedures = [...of('busy', 3955, 273, 9000), ...of('less-busy', 322, 0, 700)]

  it('has 0.91 adenomas per procedure and 1.94 per positive one', () => {
    const perProcedure = figuresOf('adenomas-per-colonoscopy-descriptive', procedures).whole
    const perPositive = figuresOf('adenomas-per-positive-colonoscopy-descriptive', procedures).whole
    expect(perProcedure.score).toBeCloseTo(0.91, 12)
    expect(perPositive.score).toBeCloseTo(1.94, 12)
    expect(perPositive.settled).toMatchObject({ met: 4550, excluded: 5150, valueSum: 8827 })
  })

  it('detects in 46.9 per cent, the one divided by the other, and not in the 46.5 of the mean of persons', () => {
    const { whole, practitioners } = figuresOf('adenoma-detection-rate-uk-screening-programme', procedures)
    expect(whole.score).toBeCloseTo(0.91 / 1.94, 12)
    expect(printed(whole, 1)[0]).toBe('46.9')
    const mean = practitioners.reduce((sum, { score = Number.NaN }) => sum + score, 0) / practitioners.length
    expect(practitioners).toHaveLength(2)
    expect((100 * mean).toFixed(1)).toBe('46.5')
  })
})

// PLoS One 2017 (PMC5619799), Table 1: adenomas by sex and by reason in a cohort of development and one of validation.
describe('two cohorts, by sex and by reason', () => {
  const bySex = [
    ['development', 'female', 1542, 5209, ['29.60', '28.38', '30.86']],
    ['development', 'male', 2026, 4725, ['42.88', '41.47', '44.29']],
    ['validation', 'female', 1826, 5237, ['34.87', '33.59', '36.17']],
    ['validation', 'male', 2187, 4797, ['45.59', '44.19', '47.00']],
  ] as const
  const byReason = [
    ['development', 'screening', 2409, 7353, ['32.76', '31.70', '33.84']],
    ['development', 'surveillance', 1159, 2581, ['44.91', '43.00', '46.83']],
    ['validation', 'screening', 2361, 6518, ['36.22', '35.06', '37.40']],
    ['validation', 'surveillance', 1652, 3516, ['46.99', '45.34', '48.64']],
  ] as const
  const all = { development: ['35.92', '34.98', '36.87'], validation: ['39.99', '39.04', '40.96'] } as const

  it.each([
    ['development', 'sex', bySex],
    ['validation', 'sex', bySex],
    ['development', 'referral-reason', byReason],
    ['validation', 'referral-reason', byReason],
  ] as const)('%s by %s', (cohort, by, table) => {
    const rows = table.filter(([name]) => name === cohort)
    const records = rows.flatMap(([, stratum, met, count]) =>
      share(met, count, by === 'sex' ? ({ sex: stratum } as Facts) : ({ referralReason: stratum } as Facts)),
    )
    const { whole, divisions } = figuresOf(us, records)
    expect(printed(whole, 2)).toEqual(all[cohort])
    const cells = divisions.find(({ stratifier }) => stratifier.id === by)?.cells ?? []
    expect(cells.map(({ keys }) => keys)).toEqual(rows.map(([, stratum]) => [stratum]))
    for (const [at, [, , met, count, figures]] of rows.entries()) {
      const cell = cells[at]
      expect(cell?.settled).toMatchObject({ met, notMet: count - met })
      expect(cell && printed(cell, 2)).toEqual(figures)
    }
  })
})

// Wilson limits for rates about the standard: at 100 examinations 35 % cannot be told from 27 or 44.
describe('the limits of a rate, by the number of examinations', () => {
  it.each([
    [18, 50, ['36.0', '24.1', '49.9']],
    [35, 100, ['35.0', '26.4', '44.7']],
    [88, 250, ['35.2', '29.5', '41.3']],
    [175, 500, ['35.0', '30.9', '39.3']],
    [350, 1000, ['35.0', '32.1', '38.0']],
    [125, 500, ['25.0', '21.4', '29.0']],
  ])('%i of %i', (met, count, figures) => {
    expect(printed(figuresOf(us, share(met, count)).whole, 1)).toEqual(figures)
  })
})
