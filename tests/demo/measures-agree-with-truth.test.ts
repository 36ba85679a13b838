import { beforeAll, describe, expect, it } from 'vitest'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { truthAnswer } from '../../src/local/demo/truth.ts'
import { countTruth, withoutKey } from '../../src/local/demo/truth-counts.ts'
import type { TruthRow } from '../../src/local/demo/truth-row.ts'
import { monthsOf } from '../../src/months.ts'
import { tally } from '../../src/tally/tally.ts'
import { definitions } from '../stories/ask.ts'
import { type Answered, answerWindows, demoBase, demoServer } from './pull-demo.ts'

// The truth is a table that the generator decided before it wrote any resource; it never passed through linkage or criteria.
const period = { start: '2025-01-01', end: '2026-06-30' }
const source = demoSource(demoBase)
let truth: readonly TruthRow[]
let answered: Answered

beforeAll(async () => {
  const demo = generateDemo()
  truth = demo.truth
  answered = await answerWindows(demoServer(demo.resources), monthsOf(period))
})

it('every examination of the truth is found, once, and nothing else is', () => {
  const expected = truth.filter(({ kind }) => kind === 'examination').map(({ procedure }) => procedure)
  expect(answered.rows.map(({ procedure }) => procedure).sort()).toEqual(expected.sort())
  expect(answered.incomplete).toEqual([])
})

describe.each(definitions.measures.map((measure, index) => [measure.id, measure, index] as const))(
  '%s',
  (id, measure, index) => {
    const report = () =>
      tally({ measure, index, period, asOf: '2026-08-15T22:59:59.999Z', asOfDate: '2026-08-15' }, answered.rows, [
        source,
      ])

    it('answers every examination as the truth does', () => {
      const rows = new Map(truth.map((row) => [row.procedure, row]))
      const camel = (code: string) => code.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase())
      const differing = answered.rows.filter((row) => {
        const told = truthAnswer(id, rows.get(row.procedure) as TruthRow)
        const { code, value, over } = row.answers[index] ?? { code: 'none' as const }
        return camel(code) !== told.answer || (code === 'met' && (value !== told.value || over !== told.over))
      })
      expect(differing.map(({ procedure }) => procedure)).toEqual([])
    })

    it.each(['unit', 'practitioner'] as const)(
      'counts by %s what the truth counts, up to the last settled day',
      (by) => {
        const result = report()
        expect(result.settledThrough).toBeDefined()
        const told = countTruth(truth, id, { start: period.start, end: result.settledThrough ?? '' }, by)
        const strata = by === 'unit' ? result.units : result.practitioners
        expect(strata.length).toBeGreaterThan(2)
        for (const { key, settled } of strata) {
          const { met = 0, notMet = 0, excluded = 0, excepted = 0, valueSum = 0 } = told.get(key ?? withoutKey) ?? {}
          const values = settled.valueSum === undefined ? {} : { valueSum }
          expect(settled, key ?? 'without key').toMatchObject({ met, notMet, excluded, excepted, ...values })
        }
      },
    )
  },
)
