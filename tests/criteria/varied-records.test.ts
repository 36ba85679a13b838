import { expect, it } from 'vitest'
import type { Field } from '../../src/record/field.ts'
import { fields } from '../../src/record/fields.ts'
import { variedRecords } from './varied-records.ts'

const records = variedRecords(2_000, 1)

it('hold every field, and each of its words, and lack every field that a record may lack', () => {
  for (const [name, field] of Object.entries<Field>(fields)) {
    const values = records.map((record) => Reflect.get(record, name))
    expect(
      values.some((value) => value !== undefined),
      `${name} is recorded`,
    ).toBe(true)
    const required = ['procedure', 'source'].includes(name)
    expect(
      values.some((value) => value === undefined),
      `${name} is missing`,
    ).toBe(!required)
    for (const word of field.values ?? []) expect(values, name).toContain(word)
  }
})

it('hold from no polyp to several, with every polyp field now present and now absent', () => {
  expect(new Set(records.map(({ polyps }) => polyps?.length))).toEqual(new Set([undefined, 0, 1, 2, 3, 4, 5]))
  const polyps = records.flatMap((record) => record.polyps ?? [])
  for (const name of Object.keys(fields.polyps.of))
    expect(new Set(polyps.map((polyp) => Object.hasOwn(polyp, name))), name).toEqual(new Set([true, false]))
})

it('are the same for the same seed and others for another', () => {
  expect(variedRecords(50, 1)).toEqual(records.slice(0, 50))
  expect(variedRecords(50, 2)).not.toEqual(records.slice(0, 50))
})
