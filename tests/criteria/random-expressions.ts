import fc from 'fast-check'
import type { Field } from '../../src/record/field.ts'
import { fields } from '../../src/record/fields.ts'
import { polypFields } from '../../src/record/findings.ts'

const namesOf = (model: Readonly<Record<string, Field>>, ...types: readonly string[]) =>
  fc.constantFrom(...Object.keys(model).filter((name) => types.includes(model[name]?.type ?? '')))

const wordOf = (field: Field) => fc.constantFrom(...(field.values ?? [])).map((word) => `'${word}'`)

/** Numbers at the limits of measures, and some that lie within or just beyond the 8 decimals of a comparison. */
const literal = fc.constantFrom(
  '0',
  '1',
  '2',
  '6',
  '0.1',
  '5.999',
  '10.001',
  '45',
  '-1',
  '0.000000004',
  '33.333',
  '123456789.5',
)

const infix = (operators: readonly string[], operand: fc.Arbitrary<string>) =>
  fc
    .tuple(operand, fc.constantFrom(...operators), operand, fc.constantFrom('both', 'left', 'right', 'none'))
    .map(([left, operator, right, enclosed]) => {
      const one = enclosed === 'both' || enclosed === 'left' ? `(${left})` : left
      const other = enclosed === 'both' || enclosed === 'right' ? `(${right})` : right
      return `${one} ${operator} ${other}`
    })

/** A code compared with words of its own. */
const wordTest = (model: Readonly<Record<string, Field>>) =>
  namesOf(model, 'code').chain((name) => {
    const word = wordOf(model[name] ?? { type: 'code', short: '', filledBy: '' })
    return fc.oneof(
      fc.tuple(fc.constantFrom('=', '!='), word).map(([operator, value]) => `${name} ${operator} ${value}`),
      fc.array(word, { minLength: 1, maxLength: 4 }).map((words) => `(${name} in (${words.join(' | ')}))`),
    )
  })

const presence = (model: Readonly<Record<string, Field>>) =>
  fc
    .tuple(namesOf(model, 'code', 'integer', 'decimal', 'boolean'), fc.constantFrom('exists', 'empty'))
    .map(([name, asked]) => `${name}.${asked}()`)

const comparisons = ['=', '!=', '<', '<=', '>', '>=']
const logic = ['and', 'or', 'implies']

/** What may be asked of one polyp. */
const { polypTest } = fc.letrec<{ polypTest: string }>((tie) => ({
  polypTest: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    wordTest(polypFields),
    infix(comparisons, fc.oneof(literal, fc.constantFrom('sizeMillimetres', '$this.sizeMillimetres'))),
    presence(polypFields),
    infix(logic, tie('polypTest')),
    tie('polypTest').map((test) => `(${test}).not()`),
  ),
}))

const polyps = fc
  .array(polypTest, { maxLength: 2 })
  .map((filters) => `polyps${filters.map((filter) => `.where(${filter})`).join('')}`)

const sizes = fc.oneof(
  polyps.map((list) => `${list}.sizeMillimetres`),
  fc.tuple(polyps, literal).map(([list, limit]) => `${list}.sizeMillimetres.where($this > ${limit})`),
)

const arbitraries = fc.letrec<{ truth: string; amount: string }>((tie) => ({
  amount: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    literal,
    namesOf(fields, 'integer', 'decimal'),
    fc.tuple(sizes, fc.constantFrom('sum', 'max', 'min', 'count')).map(([list, asked]) => `${list}.${asked}()`),
    polyps.map((list) => `${list}.count()`),
    infix(['+', '-', '*', '/'], tie('amount')),
    fc.tuple(tie('truth'), tie('amount'), tie('amount')).map(([when, one, other]) => `iif(${when}, ${one}, ${other})`),
  ),
  truth: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    namesOf(fields, 'boolean'),
    fc.constantFrom('true', 'false', '{}'),
    wordTest(fields),
    presence(fields),
    infix(comparisons, tie('amount')),
    infix(logic, tie('truth')),
    infix(['=', '!='], namesOf(fields, 'boolean')),
    tie('truth').map((test) => `(${test}).not()`),
    tie('truth').map((test) => `(${test}).exists()`),
    fc.tuple(tie('truth'), tie('truth')).map(([when, one]) => `iif(${when}, ${one})`),
    fc
      .tuple(polyps, fc.constantFrom('exists', 'all'), polypTest)
      .map(([list, asked, test]) => `${list}.${asked}(${test})`),
    fc.tuple(polyps, fc.constantFrom('exists', 'empty')).map(([list, asked]) => `${list}.${asked}()`),
    fc
      .tuple(tie('amount'), fc.array(literal, { minLength: 1, maxLength: 3 }))
      .map(([of, from]) => `(${of}) in (${from.join(' | ')})`),
  ),
}))

/** Random expressions of true or false out of the accepted constructs, with and without parentheses. */
export const randomTruth = arbitraries.truth

/** Random expressions of a number, likewise. */
export const randomAmount = arbitraries.amount
