import { describe, expect, it } from 'vitest'
import { CriterionError } from '../../src/criteria/criterion-error.ts'
import { parseCriterion } from '../../src/criteria/parse.ts'
import type { Field } from '../../src/record/field.ts'
import { fields } from '../../src/record/fields.ts'
import { polypFields } from '../../src/record/findings.ts'
import { booleanExpressions, numberExpressions } from './expressions.ts'

/** The refusal of an expression: reason, line and column. */
function refusal(expression: string, want: 'boolean' | 'number' = 'boolean'): string {
  try {
    parseCriterion(expression, want, fields)
  } catch (error) {
    if (error instanceof CriterionError) return error.message
    throw error
  }
  return 'accepted'
}

const dates =
  'dates are not accepted: the report chooses the period; for ages and delays there are fields in years and days'
const order = 'the lists have no order: write where(...), exists(...), max() or min()'
const oneType = 'every field has one type, which the logical model states'
const known = 'the functions are not, exists, empty, count, where, all, sum, max, min, iif'
const single = 'works on single values, and this is a list: write exists(...), all(...) or count()'

describe('a construct whose standard behaviour surprises is refused, with what to write instead', () => {
  it.each([
    ["sex ~ 'Female'", '~ ignores case and rounds: write =', 5],
    ['age !~ 3', '!~ ignores case and rounds: write !=', 5],
    ['bleeding xor perforation', 'xor is not accepted: write (a and b.not()) or (a.not() and b)', 10],
    ['examinationDate > @2026-01-01', dates, 19],
    ['examinationDate > @2026-01-01T09:00:00Z', dates, 19],
    ['age > @T09:00', 'times are not accepted: for durations there are fields in minutes', 7],
    ["examinationDate = '2026-01-01'", 'dates are not compared in a criterion: the report chooses the period', 1],
    ['now() > 3', 'now() is not accepted: criteria do not know the time: a report is made as of its own instant', 1],
    [
      'today() > 3',
      'today() is not accepted: criteria do not know the time: a report is made as of its own instant',
      1,
    ],
    [
      "polyps.exists(sizeMillimetres > 4 'mm')",
      'quantities are not accepted: every field has a fixed unit, so write the number alone',
      33,
    ],
    ['age > 4 years', 'quantities are not accepted: every field has a fixed unit, so write the number alone', 7],
    [
      "polyps[0].site = 'rectum'",
      'an index such as [0] is not accepted, the lists have no order: write where(...) or exists(...)',
      7,
    ],
    ["polyps.first().site = 'rectum'", `first() is not accepted: ${order}`, 8],
    ["polyps.last().site = 'rectum'", `last() is not accepted: ${order}`, 8],
    [
      'polyps.exists($index = 1)',
      '$index is not accepted, the lists have no order: write where(...) or exists(...)',
      15,
    ],
    ['$total > 1', '$total is not accepted: write sum(), max(), min() or count()', 1],
    [
      "polyps.site contains 'rectum'",
      "contains is not accepted: write field in ('this' | 'that'), or list.exists($this = 'this')",
      13,
    ],
    [
      "unit.contains('x')",
      "contains() is not accepted: write field in ('this' | 'that'), or list.exists($this = 'this')",
      6,
    ],
    ['age is Integer', `is is not accepted: ${oneType}`, 5],
    ['(age as Integer) > 2', `as is not accepted: ${oneType}`, 6],
    ['age.is(Integer)', `is() is not accepted: ${oneType}`, 5],
    ['polyps.site.ofType(string).exists()', `ofType() is not accepted: ${oneType}`, 13],
    ['%context.age > 3', '% variables are not accepted: a criterion reads the record only', 1],
    ['age div 2 > 1', 'div is not accepted: write / and compare the exact quotient', 5],
    ['age mod 2 = 1', 'mod is not accepted: no fact of the record needs a remainder', 5],
    ["unit & operator = 'x'", '& is not accepted: texts are compared, never joined', 6],
    ['(age | 2) = 2', "| is accepted only to list literals after in: field in ('this' | 'that')", 6],
    ['1L = age', 'long numbers are not accepted: write the number without L', 1],
    ["Coding { system: 'x' }", 'a criterion reads the record and makes no objects', 1],
    [
      'polyps.select(site).exists()',
      'select() is not accepted: name the member instead, as in polyps.sizeMillimetres',
      8,
    ],
    ["age.toString() = '3'", `toString() is not accepted: ${known}`, 5],
    ['polyps.sort(site).exists()', `sort() is not accepted: ${known}`, 8],
    ['-age < 3', 'a sign is accepted only as the minus of a number such as -1: write 0 - field', 1],
    ['+1 < age', 'a sign is accepted only as the minus of a number such as -1: write 0 - field', 1],
    ["polyps.site.$this = 'rectum'", '$this stands at the start of a path', 13],
  ])('%s', (expression, reason, column) => {
    expect(refusal(expression)).toBe(`${reason} (line 1, column ${column})`)
  })
})

describe('an expression that does not fit the logical model is refused', () => {
  it.each([
    ['ages >= 45', 'the record has no field ages', 1],
    ['constructor.exists()', 'the record has no field constructor', 1],
    ['polyps.all(age > 3)', `an element of polyps has no field age, only ${Object.keys(polypFields).join(', ')}`, 12],
    ["age = 'x'", '= compares unlike things: a number with a text', 5],
    ['age > caecumReached', '> compares unlike things: a number with true or false', 5],
    [
      'completion = preparationLevel',
      '= compares unlike things: one of the words completed, stopped with one of the words adequate, inadequate',
      12,
    ],
    ['setting = unit', '= compares unlike things: one of the words outpatient, inpatient, emergency with a text', 9],
    ["setting = 'outpatients'", "'outpatients' is not one of the words outpatient, inpatient, emergency", 11],
    ["setting in ('outpatient' | 'day')", "'day' is not one of the words outpatient, inpatient, emergency", 28],
    ["iif(bleeding, 'on', 'off') = operatorRole", "'on' is not one of the words independent, trainee", 1],
    ["age in ('45' | '50')", 'in compares unlike things: a number with a text', 9],
    ['age in (45 | adenomaCount)', "in needs literals: write field in ('this' | 'that')", 14],
    ['age in polyps', "in needs literals: write field in ('this' | 'that')", 8],
    ['age = {}', 'a comparison with {} is always empty: write field.exists() or field.empty()', 7],
    ['age and bleeding', 'and needs true or false, and this is a number', 1],
    [
      'bleeding or setting',
      'or needs true or false, and this is one of the words outpatient, inpatient, emergency',
      13,
    ],
    ["'x' implies bleeding", 'implies needs true or false, and this is a text', 1],
    ['age.not()', 'not() needs true or false, and this is a number', 1],
    ['bleeding + 1 > 2', '+ needs a number, and this is true or false', 1],
    ['unit < operator', '< needs a number, and this is a text', 1],
    ["polyps.site = 'rectum'", `= ${single}`, 8],
    ["polyps.site in ('rectum')", `in ${single}`, 8],
    ['polyps.sizeMillimetres > 3', `> ${single}`, 8],
    ['polyps and bleeding', `and ${single}`, 1],
    ['polyps', `a criterion ${single}`, 1],
    ['polyps.not()', `not() ${single}`, 1],
    ['iif(bleeding, polyps, {})', `iif() ${single}`, 15],
    ['iif(age, true, false)', 'iif() needs true or false, and this is a number', 5],
    ["iif(bleeding, 1, 'x') = 1", 'iif() yields unlike things: a number, else a text', 1],
    ['iif(bleeding)', 'iif() takes 2 to 3 arguments, not 1', 1],
    ['age.iif(bleeding, true)', 'iif() stands alone: write iif(condition, value, otherwise)', 5],
    ['not(bleeding)', 'not() takes 0 arguments, not 1', 1],
    ['exists()', 'exists() needs something before it: write field.exists()', 1],
    ['$this.exists()', 'exists() works on a field, and this is the whole record', 1],
    ['age.count() = 1', 'count() works on a list, and this is a number', 1],
    ['age.where($this > 3).exists()', 'where(...) works on a list, and this is a number', 1],
    ["polyps.site.max() = 'x'", 'max() needs a list of numbers, and this is a list of other things', 8],
    ['polyps.where(sizeMillimetres).exists()', 'where() needs true or false, and this is a number', 14],
    ["age.site = 'rectum'", 'site cannot be read here: a number has no fields', 5],
    ['age', 'the expression must yield true or false, and yields a number', 1],
  ])('%s', (expression, reason, column) => {
    expect(refusal(expression)).toBe(`${reason} (line 1, column ${column})`)
  })

  it('where a number is wanted', () => {
    expect(refusal('caecumReached', 'number')).toBe(
      'the expression must yield a number, and yields true or false (line 1, column 1)',
    )
  })

  it('where a boolean field would stand alone in a filter, which the package takes as true even when it is false', () => {
    const model: Record<string, Field> = {
      stents: {
        type: 'list',
        of: { open: { type: 'boolean', short: '', filledBy: '' } },
        short: '',
        filledBy: '',
      },
    }
    const parse = (expression: string) => () => parseCriterion(expression, 'boolean', model)
    expect(parse('stents.exists(open)')).toThrow('exists() needs a comparison, not a bare field: write field = true')
    expect(parse('stents.open.where(iif(true, $this)).exists()')).toThrow(
      'where() needs a comparison, not a bare field',
    )
    expect(parse('stents.exists(open = true)')).not.toThrow()
    expect(parse('stents.all(open)')).not.toThrow()
  })
})

describe('text that is not FHIRPath is refused at the place where it stops making sense', () => {
  it.each([
    ['', 'the expression is blank (line 1, column 1)'],
    ['age >', 'the expression ends too early (line 1, column 6)'],
    ['age >= 45 and\n and bleeding', 'unexpected and (line 2, column 2)'],
    ['(age > 3))', 'unexpected ) (line 1, column 10)'],
    ['age # 3', 'unexpected # (line 1, column 5)'],
    ["sex = 'female", "unexpected ' (line 1, column 7)"],
    ['day = 3', 'day is a reserved word of FHIRPath and cannot be a field (line 1, column 1)'],
  ])('%j', (expression, message) => {
    expect(refusal(expression)).toBe(message)
  })
})

describe('an accepted expression', () => {
  it.each(booleanExpressions)('of true or false: %s', (expression) => {
    expect(refusal(expression)).toBe('accepted')
  })

  it.each(numberExpressions)('of a number: %s', (expression) => {
    expect(refusal(expression, 'number')).toBe('accepted')
  })

  it('names the fields it reads once each, those of polyps under their list', () => {
    const expression =
      "age > 44 and age < 76 and polyps.where(site = 'rectum').sizeMillimetres.max() > withdrawalMinutes"
    expect(parseCriterion(expression, 'boolean', fields).fields).toEqual([
      'age',
      'polyps',
      'polyps.site',
      'polyps.sizeMillimetres',
      'withdrawalMinutes',
    ])
  })

  it('reads literals as the standard does: escapes, leading zeros, trailing zeros', () => {
    // FHIRPath Normative Release 1 (v2.0.0), 4.1.2 string and 4.1.4 decimal.
    expect(parseCriterion("unit = 'a\\'b\\u0041'", 'boolean', fields).ast).toMatchObject({ right: { value: "a'bA" } })
    expect(parseCriterion('007.50', 'number', fields).ast).toEqual({ kind: 'literal', value: 7.5 })
  })

  it('survives JSON unchanged, as the build step stores it', () => {
    for (const expression of booleanExpressions) {
      const criterion = parseCriterion(expression, 'boolean', fields)
      expect(JSON.parse(JSON.stringify(criterion))).toEqual(criterion)
    }
  })
})
