import type { OperationOutcome } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import type { Env } from '../../src/env.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { appUnderTest, bodyOf, diagnosticsOf, local } from './app-under-test.ts'

const { LOCAL_START: _, ...closed } = local
const secured: Env = { ...closed, ACCESS_TOKEN: 'k2-secret' }
const { get } = appUnderTest()
const withToken = (authorization: string, env = secured) => get('/fhir/metadata', { headers: { authorization } }, env)

describe('access', () => {
  it('is refused everywhere but at /health while none is configured, and says what to configure', async () => {
    for (const path of ['/', '/fhir/metadata', '/fhir/Measure', '/nothing']) {
      const response = await get(path, {}, closed)
      expect(response.status, path).toBe(403)
      const outcome = await bodyOf<OperationOutcome>(response)
      expect(faultsOf(outcome)).toEqual([])
      expect(outcome.issue[0]).toMatchObject({
        code: 'forbidden',
        diagnostics: expect.stringContaining('ACCESS_TOKEN'),
      })
    }
    expect((await get('/health', {}, closed)).status).toBe(200)
  })

  it('is free under the local start', async () => {
    expect((await get('/fhir/metadata')).status).toBe(200)
  })

  it('needs the configured token, under the local start too', async () => {
    expect((await withToken('Bearer k2-secret')).status).toBe(200)
    expect((await withToken('bearer k2-secret')).status).toBe(200)
    expect((await get('/fhir/metadata', {}, { ...secured, LOCAL_START: 'true' })).status).toBe(401)
  })

  // RFC 9110, 15.5.2: a 401 carries a challenge; RFC 6750, 3: the scheme is Bearer.
  it.each(['', 'Bearer', 'Bearer k2-secre', 'Bearer k2-secret2', 'Bearer K2-SECRET', 'Basic k2-secret', 'k2-secret'])(
    'is challenged for %j',
    async (authorization) => {
      const response = await withToken(authorization)
      expect(response.status).toBe(401)
      expect(response.headers.get('www-authenticate')).toMatch(/^Bearer/)
      expect(await response.text()).not.toContain('k2-secret')
    },
  )

  it('is not even considered when the configuration is wrong; /health still answers', async () => {
    const wrong: Env = { FHIR_BASE_URL: 'nowhere' }
    const response = await get('/fhir/metadata', {}, wrong)
    expect(response.status).toBe(500)
    expect(await diagnosticsOf(response)).toContain('TIME_ZONE')
    expect((await get('/health', {}, wrong)).status).toBe(200)
  })
})
