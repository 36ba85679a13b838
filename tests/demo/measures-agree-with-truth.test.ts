import { beforeAll, describe, expect, it } from 'vitest'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { truthAnswer } from '../../src/local/demo/truth.ts'
import { countTruth, withoutKey } from '../../src/local/demo/truth-counts.ts'
import type { TruthRow } from '../../src/local/demo/truth-row.ts'
import { monthsOf } from '../../src/months.ts'
import type { AnswerRow } from '../../src/tally/answer-row.ts'
import type { MeasureResult, Stratum } from '../../src/tally/result.ts'
import { DividedRows } from '../../src/tally/strata.ts'
import { tally } from '../../src/tally/tally.ts'
import { definitions } from '../stories/ask.ts'
import { type Answered, answerWindows, demoBase, demoServer } from './pull-demo.ts'

// The truth is a table that the generator decided before it wrote any resource; it never passed through linkage or criteria.
const period = { start: '2025-01-01', end: '2026-06-30' }
const source = demoSource(demoBase)

/** Measures of cancers over three years, of which the demo declares no feed; its examinations are not that old either. */
const notAvailable = ['post-colonoscopy-cancer-cases-3-year-uk-2016', 'post-colonoscopy-cancer-rate-3-year-weo-2018']

/** Nobody in the demo was perforated after a positive screening test, or screened at 86. */
const neverMet = [
  'perforation-rate-30-day-uk-screening-programme',
  'perforation-rate-7-day-uk-screening-programme',
  'screening-at-86-or-older-us-government-2024',
]

let truth: readonly TruthRow[]
let answered: Answered
/** Each examination that the service found, with its row of the truth. */
let pairs: readonly (readonly [AnswerRow, TruthRow])[]
let divided: DividedRows

beforeAll(async () => {
  const demo = generateDemo()
  truth = demo.truth
  answered = await answerWindows(demoServer(demo.resources), monthsOf(period))
  const rows = new Map(truth.map((row) => [row.procedure, row]))
  pairs = answered.rows.flatMap((row) => {
    const told = rows.get(row.procedure)
    return told ? [[row, told] as const] : []
  })
  divided = new DividedRows(answered.rows)
}, 300_000)

it('every examination of the truth is found, once, and nothing else is', () => {
  const expected = truth.filter(({ kind }) => kind === 'examination').map(({ procedure }) => procedure)
  expect(answered.rows.map(({ procedure }) => procedure).sort()).toEqual(expected.sort())
  expect(answered.incomplete).toEqual([])
})

it('some examination meets each measure but those that are not available and a few', () => {
  const unmet = definitions.measures.filter((_, index) =>
    answered.rows.every(({ answers }) => answers[index]?.code !== 'met'),
  )
  expect(unmet.map(({ id }) => id).sort()).toEqual([...notAvailable, ...neverMet].sort())
})

describe.each(definitions.measures.map((measure, index) => [measure.id, measure, index] as const))(
  '%s',
  (id, measure, index) => {
    let result: Pick<MeasureResult, 'settledThrough' | 'whole' | 'units' | 'practitioners'> | undefined
    const counted = () => {
      // Units and people are counted whatever else divides the measure.
      result ??= tally(
        {
          measure: { ...measure, stratifiers: [] },
          index,
          period,
          asOf: '2026-08-15T22:59:59.999Z',
          asOfDate: '2026-08-15',
        },
        answered.rows,
        [source],
        divided,
      )
      return result
    }

    it('answers every examination as the truth does', () => {
      const differing = pairs.flatMap(([{ procedure, answers }, row]) => {
        const told = inWords(truthAnswer(id, row))
        const { code, value, over } = answers[index] ?? { code: 'without an answer' }
        const found = inWords({ answer: inCamelCase(code), ...(code === 'met' && { value, over }) })
        return found === told ? [] : [`${procedure}: ${found}, truly ${told}`]
      })
      // The first few tell enough.
      expect({ number: differing.length, first: differing.slice(0, 20) }).toEqual({ number: 0, first: [] })
      expect(pairs).toHaveLength(answered.rows.length)
    })

    it.each(['unit', 'practitioner'] as const)(
      'counts by %s what the truth counts, up to the last settled day',
      (by) => {
        const { settledThrough, units, practitioners, whole } = counted()
        const strata = by === 'unit' ? units : practitioners
        const found = Object.fromEntries(strata.map(({ key, settled }) => [key ?? withoutKey, settled] as const))
        if (notAvailable.includes(id)) {
          expect(Object.values(found).filter(({ denominator }) => denominator > 0)).toEqual([])
          expect(whole.apart['not-available']).toBeGreaterThan(0)
          return
        }
        expect(settledThrough).toBeDefined()
        const told = countTruth(truth, id, { start: period.start, end: settledThrough ?? '' }, by)
        const counts = [...told].map(([key, count]): [string, Counts] => [key, partsOf(count, found[key])])
        expect(someOf(Object.entries(found).map(([key, settled]) => [key, partsOf(settled, settled)]))).toEqual(
          someOf(counts),
        )
        if (measure.attribution === 'unit-only' && by === 'practitioner') expect(strata).toEqual([])
        else expect(strata.length).toBeGreaterThan(2)
      },
    )
  },
)

const inCamelCase = (code: string): string => code.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase())

const inWords = ({ answer, value, over }: { answer: string; value?: number | undefined; over?: number | undefined }) =>
  [answer, value, over].filter((part) => part !== undefined).join(' ')

type Settled = Stratum['settled']
type Counts = Readonly<Record<string, number>>

/** The counts that a stratum has: sums of values only where its measure observes any. */
function partsOf(
  {
    met,
    notMet,
    excluded,
    excepted,
    valueSum = 0,
    overSum = 0,
  }: Pick<Settled, 'met' | 'notMet' | 'excluded' | 'excepted' | 'valueSum' | 'overSum'>,
  like: Settled | undefined,
): Counts {
  const values = like?.valueSum === undefined ? {} : { valueSum, overSum }
  return { met, notMet, excluded, excepted, ...values }
}

/** Strata in which anything is counted. */
const someOf = (counts: readonly (readonly [string, Counts])[]): Readonly<Record<string, Counts>> =>
  Object.fromEntries(counts.filter(([, parts]) => Object.values(parts).some((number) => number !== 0)))
