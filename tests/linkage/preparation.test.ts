import { describe, expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import { readPreparation } from '../../src/linkage/preparation.ts'
import { definitions } from '../stories/ask.ts'
import { snomed } from '../stories/examination.ts'

// Boston scale: three segments of 0 to 3; adequate when each is at least 2 (clinical practice update 2021). What a total alone
// decides follows by arithmetic: 2 + 2 + 2 = 6 is the least adequate one, 3 + 3 + 1 = 7 the greatest inadequate one.
const codes = new Codes(definitions.resources)
const told = (resource: Record<string, unknown>) => ({ resource, code: codes.of(resource.code) })
const total = (value: number) => told({ code: snomed('722818007'), valueInteger: value })
const segment = (site: string, value: unknown) =>
  told({ code: snomed('722819004'), bodySite: snomed(site), ...(value as object) })

describe('Boston scores', () => {
  it.each([
    [0, false],
    [5, false],
    [6, undefined],
    [7, undefined],
    [8, true],
    [9, true],
  ])('a total of %i alone says of every segment: %s', (value, judged) => {
    expect(readPreparation([total(value)], codes)).toMatchObject({
      preparationScale: 'boston',
      preparationTotal: value,
    })
    expect(readPreparation([total(value)], codes).segmentsAllAtLeast2).toBe(judged)
  })

  it('segments decide before a total does', () => {
    const facts = readPreparation(
      [
        segment('51342009', { valueInteger: 3 }),
        segment('485005', { valueInteger: 3 }),
        segment('55572008', { valueInteger: 0 }),
        total(9),
      ],
      codes,
    )
    expect(facts).toMatchObject({ preparationTotal: 6, segmentsAllAtLeast2: false, preparationLeft: 0 })
  })

  it.each([
    ['a quantity', { valueQuantity: { value: 2 } }],
    ['a decimal sent as text', { valueString: '2' }],
  ])('a score sent as %s is read', (_, value) => {
    expect(readPreparation([segment('51342009', value)], codes).preparationRight).toBe(2)
  })

  it.each([
    ['a comparator', { valueQuantity: { value: 2, comparator: '>' } }],
    ['a score beyond the scale', { valueInteger: 4 }],
    ['half a point', { valueQuantity: { value: 2.5 } }],
    ['words', { valueString: 'good' }],
  ])('%s is not a score', (_, value) => {
    expect(readPreparation([segment('51342009', value)], codes).preparationRight).toBeUndefined()
  })
})
