import { describe, expect, it } from 'vitest'
import { OwnAddresses } from '../../src/source/own-addresses.ts'

const base = 'https://fhir.north.example/r4'

// FHIR R4 (4.0.1), 2.3.0.1 literal references; RFC 3986, 6.2.2.1 (case of the host) and 6.2.3 (ports that a scheme implies).
describe('a reference to the configured address', () => {
  it.each([
    [`${base}/Patient/1`, 'Patient/1'],
    [`${base}/Patient/1/_history/3`, 'Patient/1/_history/3'],
    ['http://fhir.north.example/r4/Patient/1', 'Patient/1'],
    ['https://FHIR.North.example:443/r4/Patient/1', 'Patient/1'],
    [` ${base}/Patient/1 `, 'Patient/1'],
    [`${base}//Patient/1`, 'Patient/1'],
  ])('%s becomes %s', (reference, expected) => {
    expect(new OwnAddresses(base).relative(reference)).toBe(expected)
  })

  it('is known as well where the base has no path', () => {
    expect(new OwnAddresses('https://north.example').relative('https://north.example/Patient/1')).toBe('Patient/1')
  })
})

it.each([
  'https://other.example/r4/Patient/1',
  'https://fhir.north.example/r4-test/Patient/1',
  'https://fhir.north.example/Patient/1',
  'https://fhir.north.example:8443/r4/Patient/1',
  'https://fhir.north.example/r4/tenant/Patient/1',
  'https://someone@fhir.north.example/r4/Patient/1',
  `${base}/Patient?identifier=a|b`,
  `${base}/Patient/1#inside`,
  base,
  'Patient/1',
  'urn:uuid:0b8f3c1e-2222-4a4a-9f00-000000000001',
  '#inside',
])('%s stays as it is', (reference) => {
  expect(new OwnAddresses(base).relative(reference)).toBeUndefined()
})

// FHIR R4 (4.0.1), 3.1.1.4 (search): the self link repeats the search as it was carried out.
describe('what a search result calls itself', () => {
  it.each([
    'http://inner-17.local:8080/store/Procedure?code=1',
    'http://inner-17.local:8080/store/Procedure',
    'http://inner-17.local:8080/store/Procedure/_search?code=1',
  ])('makes its base an address of the source: %s', (self) => {
    const own = new OwnAddresses(base)
    const reference = 'http://inner-17.local:8080/store/Patient/1'
    expect(own.relative(reference)).toBeUndefined()
    own.learn(self, 'Procedure')
    expect(own.relative(reference)).toBe('Patient/1')
    expect(own.relative(`${base}/Patient/1`)).toBe('Patient/1')
    expect(own.relative('http://inner-17.local:8080/other/Patient/1')).toBeUndefined()
  })

  it.each(['?code=1', '/store/Procedure?code=1', 'https://other.example/store?_getpages=7'])(
    'says nothing where it is not the address of that search: %s',
    (self) => {
      const own = new OwnAddresses(base)
      own.learn(self, 'Procedure')
      expect(own.relative('https://other.example/store/Patient/1')).toBeUndefined()
    },
  )
})
