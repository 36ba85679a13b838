import { describe, expect, it } from 'vitest'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { accepted } from '../../src/wiring/guide/accepted.ts'
import { ofBase, resourcesOf } from '../../src/wiring/guide/examples/base.ts'
import { exampleOf, examples } from '../../src/wiring/guide/examples/examples.ts'
import type { GuideField } from '../../src/wiring/guide/way.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { linkExample } from './guide-examples.ts'

const fieldNames = Object.keys(accepted) as GuideField[]
const ofTheBase = linkExample(ofBase).record
const named = examples.map((example) => [example.id, example] as const)

describe('the examples of the wiring guide', () => {
  it('show every fact of the record', () => {
    expect(fieldNames.filter((name) => exampleOf(name) === undefined)).toEqual([])
  })

  it('have names of their own', () => {
    expect(new Set(examples.map(({ id }) => id)).size).toBe(examples.length)
  })

  it.each(named)('%s: every resource is valid R4', (_, example) => {
    expect(resourcesOf(example).flatMap(faultsOf)).toEqual([])
  })

  it.each(named)('%s: fills what it says', (_, example) => {
    const { record } = linkExample(example)
    expect(
      Object.fromEntries(Object.keys(example.gives).map((name) => [name, record[name as keyof Colonoscopy]])),
    ).toEqual(example.gives)
  })

  it.each(named.filter(([, example]) => example !== ofBase))(
    '%s: says nothing that the base alone says',
    (_, example) => {
      const same = Object.entries(example.gives).filter(
        ([name, value]) => JSON.stringify(ofTheBase[name as keyof Colonoscopy]) === JSON.stringify(value),
      )
      expect(same).toEqual([])
    },
  )
})
