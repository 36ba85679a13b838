import type { Bundle, Condition, FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { toServer } from './load.ts'

const transaction = (...entry: NonNullable<Bundle['entry']>): Bundle => ({
  resourceType: 'Bundle',
  type: 'transaction',
  entry,
})
const polyp = (subject: string): Condition => ({ resourceType: 'Condition', id: 'c', subject: { reference: subject } })

describe('loading Bundles into a server', () => {
  it('makes an address within a Bundle a reference that can be followed', () => {
    const held = toServer([
      transaction(
        { fullUrl: 'urn:uuid:0e5', resource: polyp('urn:uuid:7a1') },
        { fullUrl: 'urn:uuid:7a1', resource: { resourceType: 'Patient', id: 'p' } },
      ),
    ])
    expect(held).toContainEqual(polyp('Patient/p'))
  })

  it('calls a resource without an id by its address, the same each time', () => {
    const received = transaction({ fullUrl: 'urn:uuid:7a1', resource: { resourceType: 'Patient' } })
    expect(toServer([received])).toEqual([{ resourceType: 'Patient', id: '7a1' }])
    expect(toServer([received])).toEqual(toServer([received]))
  })

  it('leaves conditional references, and addresses of nobody in the Bundle, as they are', () => {
    for (const reference of ['Patient?identifier=https://hospital.example|7', 'urn:uuid:999'])
      expect(toServer([transaction({ fullUrl: 'urn:uuid:0e5', resource: polyp(reference) })])).toEqual([
        polyp(reference),
      ])
  })

  it('keeps what a nested Bundle repeats once', () => {
    const patient: FhirResource = { resourceType: 'Patient', id: 'p' }
    const nested = transaction({ resource: patient })
    expect(toServer([transaction({ resource: nested }, { resource: patient })])).toEqual([patient])
  })

  it('refuses two different resources of one name, and one that has no name at all', () => {
    expect(() => toServer([polyp('Patient/p'), polyp('Patient/q')])).toThrow('Condition/c')
    expect(() => toServer([transaction({ resource: { resourceType: 'Patient' } })])).toThrow('a Patient has neither')
  })
})
