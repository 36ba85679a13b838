import { describe, expect, it } from 'vitest'
import { shapeFaults } from '../../src/fhir/shape-faults.ts'

// What R4 (4.0.1) says of the elements; the wording of the faults is our own.
const observation = {
  resourceType: 'Observation',
  id: 'o',
  status: 'final',
  code: { coding: [{ system: 'http://loinc.org', code: '1-8' }] },
}

describe('what in a resource is not of the shape of R4', () => {
  it('is nothing in a resource as R4 has it, whatever else it holds', () => {
    expect(
      shapeFaults({
        ...observation,
        valueQuantity: { value: 8, unit: 'min' },
        note: 7,
        partOf: [{ reference: 'Procedure/p' }],
      }),
    ).toEqual([])
    expect(shapeFaults({ resourceType: 'Basic', code: 7 })).toEqual([])
  })

  it.each<[string, object, string]>([
    ['a text where an object is expected', { code: 'text' }, 'Observation.code (no object)'],
    ['an object of another type', { code: { value: 1 } }, 'Observation.code (nothing in it that is read)'],
    ['a concept without anything', { code: { coding: [] } }, 'Observation.code (nothing in it that is read)'],
    ['a coding that is a number', { code: { coding: [7] } }, 'Observation.code.coding (no object)'],
    [
      'a code that is a number',
      { code: { coding: [{ system: 's', code: 7 }] } },
      'Observation.code.coding.code (no text)',
    ],
    ['a date of no calendar', { effectiveDateTime: '2026-02-30' }, 'Observation.effectiveDateTime (no date)'],
    ['a date within a period', { effectivePeriod: { start: 'May' } }, 'Observation.effectivePeriod.start (no date)'],
    ['a status of our own', { status: 'signed' }, 'Observation.status (not a code of R4)'],
    ['no status', { status: undefined }, 'Observation.status (missing)'],
    ['no id', { id: 7 }, 'Observation.id (missing)'],
    ['a quantity without a value', { valueQuantity: { unit: 'min' } }, 'Observation.valueQuantity (no value)'],
    ['a truth that is a text', { valueBoolean: 'true' }, 'Observation.valueBoolean (neither true nor false)'],
    ['a number in words', { valueInteger: 'nine' }, 'Observation.valueInteger (no number)'],
    ['a component without a code', { component: [{ valueInteger: 1 }] }, 'Observation.component.code (missing)'],
    [
      'another server’s address',
      { partOf: [{ reference: 'https://elsewhere.example/fhir/Procedure/1' }] },
      'Observation.partOf (a reference that cannot be followed)',
    ],
    [
      'something contained that is not there',
      { specimen: { reference: '#pot' }, contained: [{ resourceType: 'Specimen', id: 'other' }] },
      'Observation.specimen (a reference that cannot be followed)',
    ],
  ])('names %s', (_, change, fault) => {
    expect(shapeFaults({ ...observation, ...change })).toEqual([fault])
  })

  it.each<[string, object]>([
    ['a lone object where R4 has a list', { partOf: { reference: 'Procedure/p' } }],
    ['a decimal as a text', { valueDecimal: '8.5' }],
    ['something contained', { specimen: { reference: '#pot' }, contained: [{ resourceType: 'Specimen', id: 'pot' }] }],
    ['a patient by identifier', { subject: { identifier: { system: 's', value: 'v' } } }],
  ])('lets pass what is read all the same: %s', (_, change) => {
    expect(shapeFaults({ ...observation, ...change })).toEqual([])
  })
})
