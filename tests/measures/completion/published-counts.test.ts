import { describe, expect, it } from 'vitest'
import type { Facts } from '../measure-of.ts'
import { reportOf } from './report-of.ts'

const percent = (score: number | undefined) => Math.round((score ?? Number.NaN) * 1000) / 10

const notReached: Facts = { caecumReached: false, completionPhotographed: false, completion: 'stopped' }
const forStool: Facts = { ...notReached, stopReason: 'inadequate-preparation', stoppedForPreparation: true }
const forStricture: Facts = { ...notReached, stopReason: 'impassable-stricture', impassableStricture: true }

// UK national audit 2011 (Gut 2013;62:242): 20,085 colonoscopies, 92.3 % unadjusted, 95.8 % adjusted for strictures and poor
// preparation. From these follow 18,538 reached and 734 taken out; how the 734 divide is not printed.
describe('the UK audit of 2011, adjusted upwards', () => {
  const audit = [
    [18_538, {}],
    [500, forStool],
    [234, forStricture],
    [813, { ...notReached, stopReason: 'discomfort' }],
  ] as const

  it('is 92.3 per cent of all', () => {
    for (const id of [
      'caecal-intubation-rate-without-proof-descriptive',
      'caecal-intubation-rate-uk-2016',
      'caecal-intubation-rate-eu-2017',
    ]) {
      const { whole } = reportOf(id, audit)
      expect(whole.settled).toMatchObject({ denominator: 20_085, excluded: 0, met: 18_538 })
      expect(percent(whole.score)).toBe(92.3)
    }
  })

  it('is 95.8 per cent without strictures and poor preparation', () => {
    const { whole } = reportOf('caecal-intubation-rate-adjusted-uk-2011', audit)
    expect(whole.settled).toMatchObject({ denominator: 20_085, excluded: 734, met: 18_538, notMet: 813 })
    expect(percent(whole.score)).toBe(95.8)
  })

  it('by US 2015 the strictures stay in: fewer are taken out, and the rate lies between', () => {
    const { whole } = reportOf('caecal-intubation-rate-adjusted-us-2015', audit)
    expect(whole.settled).toMatchObject({ excluded: 500, met: 18_538, notMet: 1047 })
    expect(whole.besides).toEqual([0, 234, 500])
  })
})

// UK survey (Gut 2004;53:277): of 9,223 colonoscopies 76.9 % recorded as complete, 56.9 % with firm evidence. From these follow
// 7,093 and 5,248.
describe('the UK survey, adjusted downwards by proof', () => {
  const survey = [
    [5248, {}],
    [1845, { completionPhotographed: false }],
    [2130, notReached],
  ] as const

  it('is 76.9 per cent as recorded, with 1,845 claims without proof beside', () => {
    const { whole } = reportOf('caecal-intubation-rate-without-proof-descriptive', survey)
    expect(whole.settled).toMatchObject({ denominator: 9223, met: 7093 })
    expect(percent(whole.score)).toBe(76.9)
    expect(whole.besides).toEqual([1845])
  })

  it('is 56.9 per cent as proven, by every standard that demands proof', () => {
    for (const id of [
      'caecal-intubation-rate-uk-2016',
      'caecal-intubation-rate-eu-2017',
      'caecal-intubation-rate-us-2024',
      'caecal-intubation-rate-aga-2021',
    ])
      expect(percent(reportOf(id, survey).whole.score)).toBe(56.9)
  })

  it('and photographs are in the record of 5,248 of the 7,093 that claim it', () => {
    expect(reportOf('photographs-recorded-descriptive', survey).whole.settled).toMatchObject({
      met: 5248,
      notMet: 1845,
    })
  })
})

// A service of 430 colonoscopies (J Coloproctol 2021): caecum 416/430 = 96.7 %; polyps in 201; withdrawal 6.15 minutes in normal
// examinations; preparation 396 adequate, printed as 92.95 %, which is of 426 and not of 430: four records lack it.
describe('a service of 430', () => {
  const unscored: Facts = { preparationScale: undefined, segmentsAllAtLeast2: undefined }
  const poor: Facts = { segmentsAllAtLeast2: false }
  const polyp: Facts = { tissueTakenOrTreated: true, polypCount: 1, withdrawalMinutes: 14 }
  const service = [
    [4, { ...unscored, withdrawalMinutes: 6.15 }],
    [16, { ...poor, withdrawalMinutes: 6.15 }],
    [98, { withdrawalMinutes: 5.4 }],
    [98, { withdrawalMinutes: 6.9 }],
    [200, polyp],
    [1, { ...polyp, ...poor, ...notReached }],
    [13, { ...poor, ...notReached }],
  ] as const

  it('reached the caecum in 416 of 430', () => {
    const { whole } = reportOf('caecal-intubation-rate-uk-2016', service)
    expect(whole.settled).toMatchObject({ denominator: 430, met: 416 })
    expect(percent(whole.score)).toBe(96.7)
  })

  it('was well prepared in 396 of the 426 that say so, by every guideline; 4 are not recorded', () => {
    for (const standard of [
      'us-2024',
      'uk-2016',
      'eu-2017',
      'us-2015',
      'us-task-force-2025',
      'all-settings-us-2024',
      'outpatients-uk-2016',
    ]) {
      const { whole } = reportOf(`adequate-bowel-preparation-rate-${standard}`, service)
      expect(whole.settled).toMatchObject({ met: 396, notMet: 30 })
      expect(whole.apart['not-recorded']).toBe(4)
      expect(whole.score).toBeCloseTo(0.9296, 4)
    }
    expect(reportOf('preparation-recorded-descriptive', service).whole.settled).toMatchObject({ met: 426, notMet: 4 })
  })

  it('withdrew in 6.15 minutes on average where nothing was taken, not in what polypectomies took', () => {
    for (const standard of ['us-2024', 'uk-2016', 'eu-2017', 'aga-2021', 'us-2015', 'no-lesion-seen-us-2024']) {
      const { whole } = reportOf(`withdrawal-time-${standard}`, service)
      expect(whole.settled.met).toBe(216)
      expect(whole.score).toBeCloseTo(6.15, 10)
    }
  })
})

// Nine hospitals, 24,157 reports (PMC3852911): preparation noted in 45.7 %, which is 11,040 of them.
it('preparation noted in 45.7 per cent of 24,157 is the share recorded, and no share of well prepared', () => {
  const hospitals = [
    [11_040, {}],
    [13_117, { preparationScale: undefined, segmentsAllAtLeast2: undefined }],
  ] as const
  expect(percent(reportOf('preparation-recorded-descriptive', hospitals).whole.score)).toBe(45.7)
  const { whole } = reportOf('adequate-bowel-preparation-rate-uk-2016', hospitals)
  expect(whole.settled).toMatchObject({ met: 11_040, notMet: 0 })
  expect(whole.readBounds).toBe(true)
  expect(percent(whole.bounds?.lower)).toBe(45.7)
})

// North-east England: caecal intubation 92.5 % of 5,720, which is 5,291.
it('92.5 per cent of 5,720', () => {
  const region = [
    [5291, {}],
    [429, notReached],
  ] as const
  expect(percent(reportOf('caecal-intubation-rate-uk-2016', region).whole.score)).toBe(92.5)
})

// A unit of 50 (worked by hand): 42 adequate, 3 scored inadequate, 5 stopped for stool unscored: 42/50, and not 42/45.
it.each([
  'us-2024',
  'uk-2016',
  'eu-2017',
  'us-2015',
  'us-task-force-2025',
  'all-settings-us-2024',
  'outpatients-uk-2016',
  'aga-2021',
])('the worst preparation does not vanish: 84.0 per cent by %s', (standard) => {
  const { whole } = reportOf(`adequate-bowel-preparation-rate-${standard}`, [
    [42, {}],
    [3, { segmentsAllAtLeast2: false }],
    [5, { ...forStool, preparationScale: undefined, segmentsAllAtLeast2: undefined }],
  ])
  expect(whole.score).toBe(0.84)
})

it('medians of times are those of all values, and what has no time stands apart', () => {
  // By hand: of 4, 6, 9 and 40 minutes the median is 7.5; of 3, 10 and 200 days it is 10.
  const insertion = reportOf('insertion-time-descriptive', [
    [1, { insertionMinutes: 4 }],
    [1, { insertionMinutes: 6 }],
    [1, { insertionMinutes: 9 }],
    [1, { insertionMinutes: 40 }],
    [2, { insertionMinutes: undefined }],
    [3, { ...notReached, insertionMinutes: undefined }],
  ]).whole
  expect(insertion.score).toBe(7.5)
  expect(insertion.apart).toMatchObject({ 'not-recorded': 2, out: 3 })
  const days = [3, 10, 200].map(
    (daysFromPositiveTest) => [1, { referralReason: 'positive-screening-test', daysFromPositiveTest }] as const,
  )
  expect(reportOf('days-from-positive-test-descriptive', days).whole.score).toBe(10)
})

it('within 10 minutes is a share of all nine, the three that never got there among them', () => {
  const { whole } = reportOf('caecum-reached-within-10-minutes-descriptive', [
    [4, { insertionMinutes: 6 }],
    [2, { insertionMinutes: 12 }],
    [3, { ...notReached, insertionMinutes: undefined }],
  ])
  expect(whole.settled).toMatchObject({ met: 4, notMet: 5 })
})

// UK 2016: performed or supervised in the room count alike, and the standard is 100 in a year.
describe('volume', () => {
  const year = [
    [70, { operator: 'a' }],
    [40, { operator: 'b', operatorRole: 'trainee', supervisor: 'a', supervisorInRoom: true }],
    [10, { operator: 'b', operatorRole: 'trainee', supervisor: 'a', supervisorInRoom: false }],
    [99, { operator: 'c' }],
  ] as const
  const numbers = (id: string) => {
    const { practitioners, whole } = reportOf(id, year)
    return {
      whole: whole.settled.initialPopulation,
      persons: Object.fromEntries(
        practitioners.map(({ key, settled }) => [key ?? 'nobody', settled.initialPopulation]),
      ),
    }
  }

  it('a performed 70 and supervised 40 in the room: 110; c has 99; the unit has each examination once', () => {
    expect(numbers('colonoscopies-performed-or-supervised-uk-2016')).toEqual({
      whole: 219,
      persons: { a: 110, b: 50, c: 99 },
    })
  })

  it('performed and supervised are also counted apart', () => {
    expect(numbers('colonoscopies-performed-descriptive')).toEqual({ whole: 219, persons: { a: 70, b: 50, c: 99 } })
    expect(numbers('colonoscopies-supervised-in-the-room-descriptive').whole).toBe(40)
    expect(numbers('colonoscopies-supervised-in-the-room-descriptive').persons).toMatchObject({ a: 40 })
  })
})
