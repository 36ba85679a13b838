import { describe, expect, it } from 'vitest'
import { compile } from '../../src/criteria/compile.ts'
import { parseCriterion } from '../../src/criteria/parse.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { fields } from '../../src/record/fields.ts'

const record: Colonoscopy = {
  procedure: 'Procedure/1',
  source: 'one',
  completionPhotographed: true,
  age: 61,
  sex: 'female',
  caecumReached: true,
  bleeding: false,
  withdrawalMinutes: 6.5,
  polyps: [
    { site: 'rectum', sizeMillimetres: 4, histology: 'hyperplastic' },
    { site: 'caecum', sizeMillimetres: 12.5, histology: 'conventional-adenoma' },
    { site: 'caecum' },
  ],
}

const answer = (expression: string, want: 'boolean' | 'number' = 'boolean', of = record) =>
  compile(parseCriterion(expression, want, fields).ast)(of)

describe('logic has three values', () => {
  // FHIRPath Normative Release 1 (v2.0.0), 6.5.1 to 6.5.5, the truth tables; {} is empty.
  const tables: Readonly<Record<string, readonly (readonly [string, string, boolean | undefined])[]>> = {
    and: [
      ['true', 'true', true],
      ['true', 'false', false],
      ['true', '{}', undefined],
      ['false', 'true', false],
      ['false', 'false', false],
      ['false', '{}', false],
      ['{}', 'true', undefined],
      ['{}', 'false', false],
      ['{}', '{}', undefined],
    ],
    or: [
      ['true', 'true', true],
      ['true', 'false', true],
      ['true', '{}', true],
      ['false', 'true', true],
      ['false', 'false', false],
      ['false', '{}', undefined],
      ['{}', 'true', true],
      ['{}', 'false', undefined],
      ['{}', '{}', undefined],
    ],
    implies: [
      ['true', 'true', true],
      ['true', 'false', false],
      ['true', '{}', undefined],
      ['false', 'true', true],
      ['false', 'false', true],
      ['false', '{}', true],
      ['{}', 'true', true],
      ['{}', 'false', undefined],
      ['{}', '{}', undefined],
    ],
  }
  const rows = Object.entries(tables).flatMap(([operator, table]) =>
    table.map(([left, right, result]) => [left, operator, right, result] as const),
  )

  it.each(rows)('%s %s %s is %s', (left, operator, right, result) => {
    expect(answer(`${left} ${operator} ${right}`)).toBe(result)
  })

  it.each([
    ['true', false],
    ['false', true],
    ['{}', undefined],
  ])('not of %s is %s', (operand, result) => {
    expect(answer(`${operand}.not()`)).toBe(result)
  })

  it('binds and before or, and or before implies', () => {
    // FHIRPath Normative Release 1, 6.8 operator precedence.
    expect(answer('true or false and false')).toBe(true)
    expect(answer('false implies false or false')).toBe(true)
  })
})

// FHIRPath Normative Release 1 (v2.0.0): the section that states each answer stands beside it.
it.each<[string, boolean | undefined, string]>([
  ['age = 61', true, '6.1.1 equals'],
  ['age = 61.0', true, '6.1.1: integers are equal to decimals of the same value'],
  ['0.1 + 0.2 = 0.3', true, '6.1.1: decimals are equal, not their binary traces'],
  ['perforationDay = 3', undefined, '6.1.1: empty where one side is'],
  ['age != 61', false, '6.1.3 not equals'],
  ["sex = 'female'", true, '6.1.1 equals'],
  ["sex = 'male'", false, '6.1.1 equals'],
  ['age > 61', false, '6.2.1 greater than'],
  ['age < 61.5', true, '6.2.2 less than'],
  ['age <= 61', true, '6.2.3 less or equal'],
  ['age >= 61', true, '6.2.4 greater or equal'],
  ['perforationDay <= 30', undefined, '6.2: empty where one side is'],
  ["sex in ('male' | 'female')", true, '6.4.2 in'],
  ["sex in ('other' | 'unknown')", false, '6.4.2 in'],
  ["setting in ('outpatient' | 'inpatient')", undefined, '6.4.2: empty where the left side is'],
  ['age.exists()', true, '5.1.2 exists'],
  ['perforation.exists()', false, '5.1.2 exists'],
  ['perforation.empty()', true, '5.1.1 empty'],
  ["polyps.exists(site = 'rectum')", true, '5.1.2 exists with criteria'],
  ["polyps.where(site = 'ileum').exists()", false, '5.2.1 where'],
  ["polyps.all(site = 'caecum')", false, '5.1.3 all'],
  ["polyps.where(site = 'ileum').all(site = 'caecum')", true, '5.1.3: true of an empty collection'],
  ['polyps.all(histology.exists())', false, '5.1.3 all'],
  ["polyps.site.where($this = 'caecum').exists()", true, '5.2.1: $this is the element'],
  ['iif(caecumReached, true, false)', true, '5.5.1 iif'],
  ['iif(perforation, true, false)', false, '5.5.1: otherwise where the condition is empty'],
  ['iif(bleeding, true)', undefined, '5.5.1: empty without otherwise'],
])('%s is %s (%s)', (expression, result) => {
  expect(answer(expression)).toBe(result)
})

// FHIRPath Normative Release 1 (v2.0.0), 6.6 math and 5.1.10 count; sum, max and min after the examples of 7.1 aggregate.
it.each<[string, number | undefined]>([
  ['age + 1', 62],
  ['age - 61.5', -0.5],
  ['withdrawalMinutes * 60', 390],
  ['withdrawalMinutes / 2', 3.25],
  ['age / 0', undefined],
  ['age + perforationDay', undefined],
  ['2 + 3 * 4', 14],
  ['(2 + 3) * 4', 20],
  ['-1', -1],
  ['{}', undefined],
  ['polyps.count()', 3],
  ["polyps.where(site = 'caecum').count()", 2],
  ['polyps.sizeMillimetres.count()', 2],
  ['polyps.sizeMillimetres.sum()', 16.5],
  ['polyps.sizeMillimetres.max()', 12.5],
  ['polyps.sizeMillimetres.min()', 4],
  ["polyps.where(site = 'ileum').sizeMillimetres.sum()", undefined],
  ["polyps.where(site = 'ileum').sizeMillimetres.max()", undefined],
  ["polyps.where(site = 'ileum').count()", 0],
])('%s is %s', (expression, result) => {
  expect(answer(expression, 'number')).toBe(result)
})

it('takes an absent list for an empty one, as FHIRPath does', () => {
  const { polyps, ...without } = record
  expect(polyps).toHaveLength(3)
  expect(answer('polyps.exists()', 'boolean', without)).toBe(false)
  expect(answer('polyps.count()', 'number', without)).toBe(0)
  expect(answer('polyps.sizeMillimetres.max()', 'number', without)).toBeUndefined()
})

it('runs from plain data, as the worker receives it', () => {
  const { ast } = parseCriterion("polyps.where(site in ('caecum' | 'ileum')).count() = 2", 'boolean', fields)
  expect(compile(JSON.parse(JSON.stringify(ast)))(record)).toBe(true)
})

it('reads every field of the record by its own name', () => {
  for (const [name, { type }] of Object.entries(fields)) {
    if (type === 'list') continue
    // The name itself as the value: no other field can stand in for it.
    expect(compile({ kind: 'member', name })({ ...record, [name]: `value of ${name}` })).toBe(`value of ${name}`)
  }
})
