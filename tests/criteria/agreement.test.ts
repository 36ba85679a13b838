import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { compile } from '../../src/criteria/compile.ts'
import type { Criterion } from '../../src/criteria/criterion.ts'
import { parseCriterion } from '../../src/criteria/parse.ts'
import type { Definitions } from '../../src/measures/definitions.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { fields } from '../../src/record/fields.ts'
import { booleanExpressions, numberExpressions } from './expressions.ts'
import { packageAnswer } from './package-answer.ts'
import { randomAmount, randomTruth } from './random-expressions.ts'
import { variedRecords } from './varied-records.ts'

const records = variedRecords(2_000, 20260815)

/** Records on which the closure and the `fhirpath` package differ: every record, whole and with each field it names dropped. */
function differences({ expression, ast, fields }: Criterion, over: readonly Colonoscopy[]) {
  const ours = compile(ast)
  const theirs = packageAnswer(expression)
  const found: { record: Colonoscopy; ours: unknown; theirs: unknown }[] = []
  for (const whole of over)
    for (const record of [whole, ...fields.flatMap((name) => without(whole, name))]) {
      const answers = { ours: ours(record), theirs: theirs(record) }
      if (!sameAnswer(answers.ours, answers.theirs)) found.push({ record, ...answers })
    }
  return found
}

/** Bit for bit, save that 0 and -0 are one number. */
const sameAnswer = (one: unknown, other: unknown) => one === other || Object.is(one, other)

/** The record without a field; nothing where it is absent already. `polyps.site` is dropped from every polyp. */
function without(record: Colonoscopy, name: string): Colonoscopy[] {
  const [field = '', ofElement] = name.split('.')
  if (!Object.hasOwn(record, field)) return []
  if (ofElement === undefined) return [dropped(record, field)]
  const polyps = record.polyps?.map((polyp) => dropped(polyp, ofElement))
  return polyps ? [{ ...record, polyps }] : []
}

function dropped<Row extends object>(row: Row, name: string): Row {
  const copy = { ...row }
  Reflect.deleteProperty(copy, name)
  return copy
}

describe('closures answer as the fhirpath package does', () => {
  const { measures }: Definitions = JSON.parse(readFileSync('build/definitions.json', 'utf8'))
  const criteria = new Map(
    measures
      .flatMap(({ criteria, besides }) => [...Object.values(criteria), ...besides.map(({ criterion }) => criterion)])
      .map((criterion) => [criterion.expression, criterion]),
  )
  /** The package is slow with long expressions, which many fields are dropped from: those meet fewer records. */
  const enough = ({ expression, fields: named }: Criterion) =>
    Math.max(12, Math.min(400, Math.floor(60_000 / (expression.length * (1 + named.length)))))

  it('over the expressions of a hundred measures at least', () => {
    expect(measures.length).toBeGreaterThanOrEqual(100)
    expect(criteria.size).toBeGreaterThanOrEqual(200)
  })

  it.each([...criteria.values()])('in a measure: $expression', (criterion) => {
    const from = criterion.expression.length % 1_000
    expect(differences(criterion, records.slice(from, from + enough(criterion)))).toEqual([])
  })

  it.each(booleanExpressions)('of true or false: %s', (expression) => {
    expect(differences(parseCriterion(expression, 'boolean', fields), records.slice(0, 400))).toEqual([])
  })

  it.each(numberExpressions)('of a number: %s', (expression) => {
    expect(differences(parseCriterion(expression, 'number', fields), records.slice(0, 400))).toEqual([])
  })

  it.each([
    ['boolean', randomTruth],
    ['number', randomAmount],
  ] as const)('of random accepted expressions that yield a %s', (want, expressions) => {
    fc.assert(
      fc.property(expressions, fc.nat(records.length - 20), (expression, from) => {
        const criterion = parseCriterion(expression, want, fields)
        expect(differences(criterion, records.slice(from, from + 20))).toEqual([])
      }),
      { numRuns: 1_000, seed: 20260815 },
    )
  })

  // Sizes of more decimals than linkage keeps: equal to the 8 decimals of a comparison, so that the first one stays.
  it.each(['max', 'min'])('where two sizes are equal to 8 decimals: %s', (name) => {
    const sizes = [5.000000001, 5, 5.000000002].map((sizeMillimetres) => ({ sizeMillimetres }))
    const record = { procedure: 'Procedure/1', source: 'one', completionPhotographed: false, polyps: sizes }
    expect(differences(parseCriterion(`polyps.sizeMillimetres.${name}()`, 'number', fields), [record])).toEqual([])
    expect(packageAnswer(`polyps.sizeMillimetres.${name}()`)(record)).toBe(5.000000001)
  })
})
