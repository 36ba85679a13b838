import { describe, expect, it } from 'vitest'
import { faultsOf } from '../report/r4-validator.ts'
import { appUnderTest, bodyOf } from './app-under-test.ts'

const { get } = appUnderTest()
const accepting = (accept: string) => get('/fhir/metadata', { headers: { accept } })

describe('content negotiation', () => {
  it.each([
    'application/fhir+json',
    'application/json',
    'application/fhir+json; fhirVersion=4.0',
    '*/*',
    'application/*',
    'text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8',
    'APPLICATION/FHIR+JSON;q=0.5',
    '',
  ])('answers JSON to Accept: %s', async (accept) => {
    const response = await accepting(accept)
    expect(response.status).toBe(200)
    expect(response.headers.get('content-type')).toContain('application/fhir+json')
  })

  it.each(['application/fhir+xml', 'application/xml', 'text/html', 'application/json;q=0', '*/*; q=0.000'])(
    'answers 406 to Accept: %s',
    async (accept) => {
      const response = await accepting(accept)
      expect(response.status).toBe(406)
      expect(faultsOf(await bodyOf(response))).toEqual([])
    },
  )

  // FHIR R4 (4.0.1), RESTful API: _format overrides Accept; an unescaped plus is a blank.
  it.each(['json', 'application/json', 'application/fhir+json', 'application%2Ffhir%2Bjson'])(
    'lets _format=%s outrank Accept',
    async (format) => {
      const response = await get(`/fhir/metadata?_format=${format}`, { headers: { accept: 'application/xml' } })
      expect(response.status).toBe(200)
    },
  )

  it.each(['xml', 'application/fhir+xml', 'ttl', 'html', ''])('answers 406 to _format=%s', async (format) => {
    expect((await get(`/fhir/metadata?_format=${format}`)).status).toBe(406)
  })
})

describe('methods', () => {
  // RFC 9110, 15.5.6: a 405 lists the methods there are.
  it.each([
    ['POST', '/fhir/metadata', 'GET, HEAD'],
    ['DELETE', '/fhir/Measure/withdrawal-time-us-2024', 'GET, HEAD'],
    ['PUT', '/fhir/ValueSet', 'GET, HEAD'],
    ['PATCH', '/fhir/Measure/$evaluate-measure', 'GET, HEAD, POST'],
    ['DELETE', '/fhir/Measure/x/$evaluate-measure', 'GET, HEAD, POST'],
  ])('%s on %s is refused with the methods there are', async (method, path, allow) => {
    const response = await get(path, { method })
    expect(response.status).toBe(405)
    expect(response.headers.get('allow')).toBe(allow)
    expect(faultsOf(await bodyOf(response))).toEqual([])
  })

  it('HEAD answers as GET without a body', async () => {
    const response = await get('/fhir/metadata', { method: 'HEAD' })
    expect([response.status, await response.text()]).toEqual([200, ''])
  })
})

describe('every answer', () => {
  it('is kept by no cache', async () => {
    for (const path of ['/fhir/metadata', '/fhir/Measure/none', '/health'])
      expect((await get(path)).headers.get('cache-control'), path).toBe('no-store')
  })
})
