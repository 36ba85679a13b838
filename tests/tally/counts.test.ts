import { describe, expect, it } from 'vitest'
import type { Source } from '../../src/config.ts'
import type { Dimension } from '../../src/measures/dimensions.ts'
import type { Attribution, MeasureDefinition } from '../../src/measures/measure.ts'
import type { Answer } from '../../src/tally/answer.ts'
import type { AnswerRow } from '../../src/tally/answer-row.ts'
import { tally } from '../../src/tally/tally.ts'

// Worked by hand from the FHIR rules for each scoring (R4, Clinical Reasoning, Quality Reporting).
const source: Source = {
  id: 's',
  baseUrl: 'https://fhir.example',
  zone: 'Europe/London',
  units: [{ id: 'north', name: 'North', match: {} }],
  completeFeeds: ['deaths'],
  pathologyLagDays: 60,
  eventLagDays: 0,
  eventsKnownBy: 'own-hospital',
  conceptMaps: [],
}
const criterion = {} as never

function measure(
  scoring: MeasureDefinition['scoring'],
  criteria: Partial<Record<keyof MeasureDefinition['criteria'], unknown>> = {},
  extra: Partial<MeasureDefinition> = {},
): MeasureDefinition {
  const single = (dimension: Dimension) => ({ id: dimension, dimensions: [dimension] })
  return {
    scoring,
    criteria,
    besides: [],
    needs: [],
    reviewList: false,
    attribution: 'operator',
    stratifiers: [
      single('month'),
      single('referral-reason'),
      single('age-band'),
      { id: 'case-mix', dimensions: ['referral-reason', 'sex'] },
    ],
    ...extra,
  } as unknown as MeasureDefinition
}

const day = Date.parse('2026-03-02') / 86_400_000
const row = (answer: Answer, facts: Partial<AnswerRow> = {}): AnswerRow => ({
  source: 's',
  procedure: 'Procedure/1',
  day,
  unit: 'north',
  operator: 'a',
  supervisor: undefined,
  supervisorInRoom: undefined,
  operatorRole: undefined,
  referralReason: 'screening',
  sex: 'female',
  age: 61,
  setting: undefined,
  attachment: undefined,
  seen: [],
  answers: [answer],
  ...facts,
})
const count = (definition: MeasureDefinition, rows: readonly AnswerRow[], asked: { practitioner?: string } = {}) =>
  tally(
    {
      measure: definition,
      index: 0,
      period: { start: '2026-01-01', end: '2026-12-31' },
      asOf: '2027-06-01T00:00:00Z',
      asOfDate: '2027-06-01',
      ...asked,
    },
    rows,
    [source],
  )

describe('a ratio of things', () => {
  const retrieval = measure('ratio', { observation: criterion, denominatorObservation: criterion })
  const answers: Answer[] = [
    { code: 'met', value: 2, over: 3, lower: 2, upper: 2 },
    { code: 'met', value: 1, over: 1, lower: 1, upper: 2, itemsNotRecorded: 1 },
    { code: 'met', value: 0, over: 0, lower: 0, upper: 1, itemsNotRecorded: 1, itemsUndecided: 2 },
  ]
  const { whole } = count(
    retrieval,
    answers.map((answer) => row(answer)),
  )

  it('divides sums, and not the mean of shares: 3 of the 4 things whose outcome is recorded', () => {
    expect(whole.score).toBe(3 / 4)
    expect(whole.settled).toMatchObject({ met: 3, valueSum: 3, overSum: 4 })
  })

  it('shows the things of which the outcome is not recorded, and the bounds they leave: 3 to 5 of 6', () => {
    expect(whole.settled).toMatchObject({ itemsNotRecorded: 2, itemsUndecided: 2 })
    expect(whole.bounds).toEqual({ lower: 3 / 6, upper: 5 / 6 })
    expect(whole.readBounds).toBe(true)
  })

  it('of all things has an exact interval, as if each examination held one: 5 of 5, from 47.8 %', () => {
    // Clopper and Pearson 1934: the lower limit of n of n is 0.025^(1/n).
    const answer: Answer = { code: 'met', value: 3, over: 3, lower: 3, upper: 3 }
    const { interval } = count(
      retrieval,
      Array.from({ length: 5 }, () => row(answer)),
    ).whole
    expect(interval?.lower).toBeCloseTo(0.025 ** (1 / 5), 12)
    expect(interval?.upper).toBe(1)
  })

  it('has no score where of nothing the outcome is recorded', () => {
    const [, , silent] = answers
    const { score, absentBecause } = count(retrieval, [row(silent as Answer)]).whole
    expect([score, absentBecause]).toEqual([undefined, 'nothing-recorded'])
  })
})

describe('a median', () => {
  const doses = measure('continuous-variable', { observation: criterion }, { aggregate: 'median' })
  const reported = (values: readonly number[]) =>
    count(
      doses,
      values.map((value) => row({ code: 'met', value })),
    ).whole

  it('is the middle value, or the mean of the middle two', () => {
    expect(reported([5, 1, 2]).score).toBe(2)
    expect(reported([5, 1, 2, 2.5]).score).toBe(2.25)
  })

  it('has an interval from the sixth value on', () => {
    expect(reported([1, 2, 3, 4, 5]).interval).toBeUndefined()
    expect(reported([1, 2, 3, 4, 5, 6]).interval).toMatchObject({ lower: 1, upper: 6 })
  })
})

describe('a cohort', () => {
  const deaths = measure('cohort', {}, { reviewList: true, attribution: 'unit-only', needs: ['deaths'] })
  const rows = [
    row({ code: 'met' }, { procedure: 'Procedure/2', day: day + 1 }),
    row({ code: 'pending', alreadyMet: true }, { procedure: 'Procedure/3', day: day + 300 }),
    row({ code: 'out' }, { procedure: 'Procedure/4' }),
  ]
  const result = count(deaths, rows)

  it('is counted over the settled days and has no score', () => {
    expect(result.whole.settled.met).toBe(1)
    expect([result.whole.score, result.whole.absentBecause, result.whole.bounds]).toEqual([
      undefined,
      'no-score',
      undefined,
    ])
  })

  it('lists every case recorded, settled or not, and has no row of a person', () => {
    expect(result.cases).toEqual(['s/Procedure/2', 's/Procedure/3'])
    expect(result.practitioners).toEqual([])
    expect(result.whole.apart.unattributed).toBeUndefined()
  })
})

describe('for whom an examination counts', () => {
  const rows = [
    row({ code: 'met' }),
    row({ code: 'met' }, { operator: 'b', supervisor: 'a', supervisorInRoom: true }),
    row({ code: 'met' }, { operator: 'b', supervisor: 'a', supervisorInRoom: false }),
    row({ code: 'met' }, { operator: undefined }),
  ]
  const persons = (attribution: Attribution, asked = {}) => {
    const { whole, practitioners } = count(measure('cohort', {}, { attribution }), rows, asked)
    return [
      whole.settled.met,
      Object.fromEntries(practitioners.map(({ key = 'nobody', settled }) => [key, settled.met])),
      whole.apart.unattributed ?? 0,
    ]
  }

  it.each<[Attribution, unknown[]]>([
    ['operator', [4, { a: 1, b: 2, nobody: 1 }, 1]],
    ['supervisor-in-room', [4, { a: 1, nobody: 3 }, 3]],
    ['operator-or-supervisor-in-room', [4, { a: 2, b: 2, nobody: 1 }, 1]],
    ['unit-only', [4, {}, 0]],
  ])('%s: the unit counts every examination once', (attribution, expected) => {
    expect(persons(attribution)).toEqual(expected)
  })

  it('one person’s own report holds what counts for that person, and no line of anybody else', () => {
    expect(persons('operator-or-supervisor-in-room', { practitioner: 'a' })).toEqual([2, { a: 2 }, 0])
  })
})

describe('what is counted beside', () => {
  it('is counted over the settled days of each group, each under its own place', () => {
    const beside = { description: '', population: 'denominator', criterion } as const
    const { whole, practitioners } = count(measure('proportion', {}, { besides: [beside, beside] }), [
      row({ code: 'met', besides: [0, 1] }),
      row({ code: 'not-met', besides: [1] }, { operator: 'b' }),
      row({ code: 'not-met' }),
    ])
    expect(whole.besides).toEqual([1, 2])
    expect(practitioners.map(({ besides }) => besides)).toEqual([
      [1, 1],
      [0, 1],
    ])
  })
})

describe('the stratifiers of a measure', () => {
  const rows = [
    row({ code: 'met' }, { age: 44 }),
    row({ code: 'not-met' }, { age: 45, day: day + 40 }),
    row({ code: 'met' }, { age: 80, referralReason: 'symptoms', sex: undefined }),
    row({ code: 'met' }, { age: undefined, referralReason: undefined }),
  ]
  const { whole, divisions } = count(measure('proportion'), rows)
  const cells = (id: string) =>
    divisions
      .find(({ stratifier }) => stratifier.id === id)
      ?.cells.map(({ keys, settled }) => [...keys, settled.met, settled.met + settled.notMet])

  it('divide by month, age band and reason, with what is not recorded last', () => {
    expect(cells('month')).toEqual([
      ['2026-03', 3, 3],
      ['2026-04', 0, 1],
    ])
    expect(cells('age-band')).toEqual([
      ['0-44', 1, 1],
      ['45-49', 0, 1],
      ['80+', 1, 1],
      [undefined, 1, 1],
    ])
    expect(cells('referral-reason')).toEqual([
      ['screening', 1, 2],
      ['symptoms', 1, 1],
      [undefined, 1, 1],
    ])
  })

  it('combine', () => {
    expect(cells('case-mix')).toEqual([
      ['screening', 'female', 1, 2],
      ['symptoms', undefined, 1, 1],
      [undefined, 'female', 1, 1],
    ])
  })

  it('each add up to the whole', () => {
    expect(divisions.length).toBe(4)
    for (const { cells: parts } of divisions) {
      expect(parts.reduce((sum, { settled }) => sum + settled.met, 0)).toBe(whole.settled.met)
      expect(parts.reduce((sum, { settled }) => sum + settled.notMet, 0)).toBe(whole.settled.notMet)
    }
  })
})
