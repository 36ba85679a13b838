import type { FhirResource } from 'fhir/r4'
import { describe, expect, it, onTestFinished, vi } from 'vitest'
import type { Env } from '../../src/env.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import type { FetchSource } from '../../src/source/connection.ts'
import { demoBase, demoServer } from '../demo/pull-demo.ts'
import { type Answer, serve } from '../source/loopback.ts'
import { examination } from '../stories/examination.ts'
import { rememberingDemo, service } from './service.ts'

const measure = 'caecal-intubation-rate-uk-2016'
const day = 'periodStart=2026-06-10&periodEnd=2026-06-10'
const { refusal } = service(rememberingDemo())

// Statuses and issue types: FHIR R4 (4.0.1), RESTful API and value set issue-type; 502 and 504: RFC 9110, 15.6.
describe('a question that cannot be answered is told', () => {
  it.each([
    ['an unknown measure', 'detection', day, 404, 'not-found', 'adenoma-detection-rate-us-2024'],
    ['no start', measure, 'periodEnd=2026-06', 400, 'required', 'give a date as YYYY, YYYY-MM or YYYY-MM-DD'],
    ['no end', measure, 'periodStart=2026-06', 400, 'required', 'give a date as YYYY, YYYY-MM or YYYY-MM-DD'],
    [
      'an inverted period',
      measure,
      'periodStart=2026-06&periodEnd=2026-05',
      400,
      'value',
      'starts on 2026-06-01, after',
    ],
    ['an impossible date', measure, 'periodStart=2026-02-30&periodEnd=2026-06', 400, 'value', 'give a date as'],
    ['an unknown parameter', measure, `${day}&unit=ellenby`, 400, 'not-supported', 'Known: periodStart, periodEnd'],
    ['an unknown unit', measure, `${day}&x-unit=nowhere`, 404, 'not-found', 'Known: ellenby, tarnhollow, quernford'],
    ['an unknown Practitioner', measure, `${day}&practitioner=Practitioner/p0`, 404, 'not-found', 'as system|value'],
    ['an unknown identifier', measure, `${day}&practitioner=urn:x|0`, 404, 'not-found', 'as Practitioner/id'],
  ])('%s', async (_, id, query, status, code, advice) => {
    const told = await refusal(id, query)
    expect(told).toMatchObject({ status, code })
    expect(told.diagnostics).toContain(advice)
  })
})

describe('two sources that have one Practitioner/id for different people', () => {
  const other = 'http://other.example/fhir'
  const shared = 'practitioner-HM-1101'
  const elsewhere = examination({ id: 'elsewhere', date: '2026-06-10', operator: shared }) as unknown as FhirResource[]
  const second = demoServer(
    [...elsewhere, { resourceType: 'Practitioner', id: shared, identifier: [{ system: 'urn:other', value: '7' }] }],
    { baseUrl: other },
  )
  const first = rememberingDemo()
  const bothSources: FetchSource = (url, init) => (url.startsWith(other) ? second : first)(url, init)
  const bindings: Env = {
    LOCAL_START: 'true',
    SOURCES: JSON.stringify([
      demoSource(demoBase),
      { id: 'other', baseUrl: other, zone: 'Europe/London', practitionerSystem: 'urn:other' },
    ]),
  }
  const june = 'periodStart=2026-06-08&periodEnd=2026-06-12'

  it('make it ambiguous, and the way out is told', async () => {
    const told = await service(bothSources, bindings).refusal(measure, `${june}&practitioner=Practitioner/${shared}`)
    expect(told).toMatchObject({ status: 400, code: 'multiple-matches' })
    expect(told.diagnostics).toContain('practitioner=system|value')
  })

  it('leave each of them to be named by identifier', async () => {
    const one = await service(bothSources, bindings).report(measure, `${june}&practitioner=urn:other|7`)
    expect(one.reporter?.identifier).toEqual({ system: 'urn:other', value: '7' })
    expect(one.group?.[0]?.population?.[0]?.count).toBe(1)
  })
})

describe('a source that fails is told', () => {
  const overHttp: FetchSource = (url, init) => fetch(url, init)
  const at = (origin: string): Env => ({
    FHIR_BASE_URL: `${origin}/fhir`,
    TIME_ZONE: 'Europe/London',
    LOCAL_START: 'true',
  })
  const withSource = async (answer: Answer) => service(overHttp, at((await serve(() => answer)).origin))

  /** Addresses hold ids of patients in their queries, and bodies hold anything. */
  const expectNothingInside = (diagnostics: string) =>
    expect(diagnostics).not.toMatch(/https?:|\?|Patient|127\.0\.0\.1/)

  it('as 502 where nothing listens', async () => {
    const server = await serve(() => ({ body: '' }))
    const told = await service(overHttp, at(server.origin.replace(/\d+$/, '1'))).refusal(measure, day)
    expect(told).toMatchObject({ status: 502, code: 'transient' })
    expect(told.diagnostics).toContain('Check that it runs and its configured address.')
    expectNothingInside(told.diagnostics)
  })

  it('as 502 where it answers with a web page', async () => {
    const page = { headers: { 'content-type': 'text/html' }, body: '<!doctype html><p>Patient/secret is signed in</p>' }
    const told = await (await withSource(page)).refusal(measure, day)
    expect(told).toMatchObject({ status: 502, code: 'structure' })
    expect(told.diagnostics).toContain('Check that the configured address is the base of a FHIR R4 server')
    expectNothingInside(told.diagnostics)
  })

  it('as 502 where a gateway before it answers with a page of its own', async () => {
    const page = { status: 502, headers: { 'content-type': 'text/html' }, body: '<html>Bad gateway</html>' }
    const told = await (await withSource(page)).refusal(measure, day)
    expect(told).toMatchObject({ status: 502, code: 'transient' })
    expect(told.diagnostics).toContain('status 502')
    expectNothingInside(told.diagnostics)
  })

  it('as 502 where it refuses access, with the outcome it gave kept inside', async () => {
    const outcome = { resourceType: 'OperationOutcome', issue: [{ diagnostics: 'Patient/secret needs a token' }] }
    const told = await (await withSource({ status: 401, body: outcome })).refusal(measure, day)
    expect(told).toMatchObject({ status: 502, code: 'processing' })
    expect(told.diagnostics).toContain('Check what access this service has been given there.')
    expectNothingInside(told.diagnostics)
  })

  it('as 504 where it does not answer in time', async () => {
    const limit = AbortSignal.timeout.bind(AbortSignal)
    const shortened = vi.spyOn(AbortSignal, 'timeout').mockImplementation(() => limit(50))
    onTestFinished(() => shortened.mockRestore())
    const told = await (await withSource({ body: 'hang' })).refusal(measure, day)
    expect(told).toMatchObject({ status: 504, code: 'timeout' })
    expect(told.diagnostics).toContain('Try a shorter period, or later.')
    expect(shortened).toHaveBeenCalledWith(30_000)
    expectNothingInside(told.diagnostics)
  })
})
