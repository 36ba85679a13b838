import { expect, it } from 'vitest'
import type { Criterion } from '../../src/criteria/criterion.ts'
import { parseCriterion } from '../../src/criteria/parse.ts'
import { benchCriteria } from '../../src/local/bench-criteria.ts'
import { fields } from '../../src/record/fields.ts'
import { variedRecords } from '../criteria/varied-records.ts'

const records = variedRecords(50, 3)
const criteria = ['age >= 45', 'caecumReached.not()'].map((expression) => parseCriterion(expression, 'boolean', fields))

it('says how many times faster the closures are', () => {
  const instants = [100, 102, 702]
  expect(benchCriteria(criteria, records, () => instants.shift() ?? 0)).toEqual({
    closuresMs: 2,
    packageMs: 600,
    ratio: 300,
  })
})

it('times nothing where the two do not answer alike', () => {
  const wrong: Criterion = { expression: 'age >= 45', ast: { kind: 'empty' }, fields: ['age'] }
  expect(() => benchCriteria([wrong], records)).toThrow('the closures gave 0 answers that are not empty, the package ')
})
