import { expect, it } from 'vitest'
import { referenceKey } from '../../src/fhir/references.ts'

// FHIR R4 (4.0.1), 2.3.0.1 literal references: relative ones are relative to the server's own base, versions may follow.
it.each([
  ['Patient/1', 'Patient/1'],
  ['Patient/1/_history/2', 'Patient/1'],
  ['  Encounter/5 ', 'Encounter/5'],
  ['Observation/a.b-c', 'Observation/a.b-c'],
])('%s is the resource %s of the same source', (reference, key) => {
  expect(referenceKey({ reference })).toBe(key)
})

// As stores have them: one type written twice, a leading slash, an id that the R4 grammar forbids.
it.each([
  ['Location/Location/Location/19', 'Location/19'],
  ['/Patient/1', 'Patient/1'],
  ['Patient/Pat_1', 'Patient/Pat_1'],
  ['Patient/Pat_1/_history/2', 'Patient/Pat_1'],
])('%s leaves no doubt about %s', (reference, key) => {
  expect(referenceKey({ reference })).toBe(key)
})

// The same section: an absolute URL names the server; contained, conditional and urn: references have no base of their own.
it.each([
  'https://elsewhere.example/fhir/Patient/1',
  'http://elsewhere.example/fhir/Patient/1/_history/2',
  'HTTPS://elsewhere.example/Patient/1',
  '//elsewhere.example/Patient/1',
  'tenant/Patient/1',
  'Patient/Group/1',
  'urn:uuid:0b8f3c1e-2222-4a4a-9f00-000000000001',
  'Practitioner?identifier=http://hl7.org/fhir/sid/us-npi|9999999999',
  '#inside',
  '1',
  '',
])('%s is no resource of this source', (reference) => {
  expect(referenceKey({ reference })).toBeUndefined()
})
