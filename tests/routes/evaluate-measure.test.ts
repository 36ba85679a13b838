import type { FhirResource, MeasureReport, OperationOutcome } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { ReportableError } from '../../src/errors.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { appUnderTest, bodyOf } from './app-under-test.ts'

const id = 'adenoma-detection-rate-us-2024'
const url = `https://colonoscopy-measures.example/fhir/Measure/${id}`
const instance = `/fhir/Measure/${id}/$evaluate-measure`
const type = '/fhir/Measure/$evaluate-measure'
const months = 'periodStart=2026-01&periodEnd=2026-06'

async function ask<Type extends FhirResource = OperationOutcome>(path: string, init: RequestInit = {}) {
  const { asked, get } = appUnderTest()
  const response = await get(path, init)
  return { request: asked[0], status: response.status, body: await bodyOf<Type>(response) }
}

const post = (body: unknown, contentType = 'application/fhir+json'): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': contentType },
  body: typeof body === 'string' ? body : JSON.stringify(body),
})

const parameters = (...parameter: object[]) => ({ resourceType: 'Parameters', parameter })
const start = { name: 'periodStart', valueDate: '2026-01' }
const end = { name: 'periodEnd', valueDate: '2026-06' }

describe('$evaluate-measure', () => {
  it('answers one MeasureReport as the whole body, without an id because it is not stored', async () => {
    const { status, body: report } = await ask<MeasureReport>(`${instance}?${months}`)
    expect(status).toBe(200)
    expect(faultsOf(report)).toEqual([])
    expect(report).toMatchObject({ resourceType: 'MeasureReport', type: 'summary', measure: `${url}|1.1.0` })
    expect(report.id).toBeUndefined()
    expect(report.date).toBe('2026-09-01T12:00:00.000Z')
    expect(report.evaluatedResource).toBeUndefined()
  })

  // FHIR R4 (4.0.1), OperationDefinition Measure-evaluate-measure: a partial date is its first or its last moment.
  it.each([
    ['2025', '2025', '2025-01-01', '2025-12-31'],
    ['2026-02', '2026-02', '2026-02-01', '2026-02-28'],
    ['2024-02', '2024-02', '2024-02-01', '2024-02-29'],
    ['2026-03-05', '2026-04', '2026-03-05', '2026-04-30'],
    ['2024-02-29', '2024-02-29', '2024-02-29', '2024-02-29'],
    ['2000', '2000-02', '2000-01-01', '2000-02-29'],
  ])('takes %s to %s as %s to %s', async (first, last, from, to) => {
    const { request } = await ask(`${instance}?periodStart=${first}&periodEnd=${last}`)
    expect(request?.period).toEqual({ start: from, end: to })
  })

  it.each([id, url, `${url}|1.1.0`])('finds the measure named %s on the type', async (name) => {
    const { request } = await ask(`${type}?${months}&measure=${encodeURIComponent(name)}`)
    expect(request?.measure.id).toBe(id)
  })

  it.each(['population', 'summary'])('takes reportType=%s', async (reportType) => {
    expect((await ask(`${instance}?${months}&reportType=${reportType}`)).status).toBe(200)
  })

  it('hands on practitioner, unit and the moment as they are given', async () => {
    const more = `practitioner=${encodeURIComponent('https://people.example|ab 1')}&x-unit=coast&x-as-of=2026-07-03`
    const { request } = await ask(`${instance}?${months}&${more}`)
    expect(request).toMatchObject({ practitioner: 'https://people.example|ab 1', unit: 'coast', asOf: '2026-07-03' })
    const reference = await ask(
      `${instance}?${months}&practitioner=Practitioner/ab-1&x-as-of=2026-07-03T10:00:00%2B01:00`,
    )
    expect(reference.request).toMatchObject({ practitioner: 'Practitioner/ab-1', asOf: '2026-07-03T10:00:00+01:00' })
  })

  it('takes a practitioner by the text of a stratum', async () => {
    const { request } = await ask(`${instance}?${months}&practitioner=north/Practitioner/7`)
    expect(request?.practitioner).toBe('north/Practitioner/7')
  })

  it('leaves out what is not given, so that nothing is filtered by accident', async () => {
    const { request } = await ask(`${instance}?${months}`)
    expect(Object.keys(request ?? {}).toSorted()).toEqual(['measure', 'period'])
  })

  it('takes its parameters from a Parameters resource too', async () => {
    const body = parameters(start, end, { name: 'measure', valueString: id }, { name: 'x-unit', valueString: 'coast' })
    const { status, request } = await ask(type, post(body))
    expect(status).toBe(200)
    expect(request).toMatchObject({ unit: 'coast', period: { start: '2026-01-01', end: '2026-06-30' } })
    expect((await ask(instance, post(parameters(start, end), 'application/json; charset=utf-8'))).status).toBe(200)
  })
})

describe('$evaluate-measure refuses', () => {
  // Statuses and issue types: FHIR R4 (4.0.1), OperationOutcome, issue-type; RESTful API, rejecting requests.
  it.each([
    ['no start', 'periodEnd=2026', 400, 'required', 'periodStart is missing'],
    ['no end', 'periodStart=2026', 400, 'required', 'periodEnd is missing'],
    ['a day that does not exist', 'periodStart=2026-02-30&periodEnd=2026', 400, 'value', '"2026-02-30"'],
    ['a leap day in a common year', 'periodStart=2025&periodEnd=2025-02-29', 400, 'value', '"2025-02-29"'],
    ['a leap day in 1900', 'periodStart=1900-02-29&periodEnd=1900', 400, 'value', '"1900-02-29"'],
    ['a month that does not exist', 'periodStart=2026-13&periodEnd=2026', 400, 'value', '"2026-13"'],
    ['a month 0', 'periodStart=2026-00&periodEnd=2026', 400, 'value', '"2026-00"'],
    ['a day 0', 'periodStart=2026-01-00&periodEnd=2026', 400, 'value', '"2026-01-00"'],
    ['a time', 'periodStart=2026-01-01T00:00:00Z&periodEnd=2026', 400, 'value', 'periodStart'],
    ['a short date', 'periodStart=2026-1-1&periodEnd=2026', 400, 'value', '"2026-1-1"'],
    ['a word', 'periodStart=now&periodEnd=2026', 400, 'value', '"now"'],
    ['too many parts', 'periodStart=2026-01-01-01&periodEnd=2026', 400, 'value', 'periodStart'],
    ['an inverted period', 'periodStart=2026-06&periodEnd=2026-01', 400, 'value', 'starts on 2026-06-01, after'],
    ['an unknown parameter', `${months}&periodEnds=2026`, 400, 'not-supported', '"periodEnds" is not known here'],
    ['a repeated parameter', `${months}&periodEnd=2026`, 400, 'value', 'periodEnd is given more than once'],
    ['an empty parameter', `${months}&x-unit=`, 400, 'value', 'x-unit is empty'],
    ['a subject', `${months}&subject=Patient/p1`, 400, 'not-supported', 'Use practitioner'],
    ['reports about subjects', `${months}&reportType=subject-list`, 400, 'not-supported', 'subject-list'],
    ['individual reports', `${months}&reportType=individual`, 400, 'not-supported', 'individual'],
    ['an unknown report', `${months}&reportType=all`, 400, 'value', '"all" is not one of population, summary'],
    ['lastReceivedOn', `${months}&lastReceivedOn=2026-01-01`, 400, 'not-supported', 'lastReceivedOn'],
    ['a practitioner by name', `${months}&practitioner=Jones`, 400, 'value', 'give Practitioner/id'],
    ['another type as practitioner', `${months}&practitioner=Patient/1`, 400, 'value', 'give Practitioner/id'],
    ['an as-of without a zone', `${months}&x-as-of=2026-07-03T10:00:00`, 400, 'value', 'x-as-of'],
    ['an as-of that does not exist', `${months}&x-as-of=2026-06-31`, 400, 'value', '"2026-06-31"'],
    ['a month as as-of', `${months}&x-as-of=2026-07`, 400, 'value', 'x-as-of'],
    ['a measure named twice', `${months}&measure=${id}`, 400, 'value', 'named twice'],
  ])('%s', async (_, query, expectedStatus, code, message) => {
    const { status, body, request } = await ask(`${instance}?${query}`)
    expect(status).toBe(expectedStatus)
    expect(faultsOf(body)).toEqual([])
    expect(body.issue[0]).toMatchObject({ severity: 'error', code, diagnostics: expect.stringContaining(message) })
    expect(request).toBeUndefined()
  })

  it('a measure that is missing, unknown, or of another version, and says which there are', async () => {
    expect((await ask(`${type}?${months}`)).body.issue[0]?.code).toBe('required')
    const unknown = await ask(`/fhir/Measure/none/$evaluate-measure?${months}`)
    expect(unknown.status).toBe(404)
    expect(unknown.body.issue[0]?.diagnostics).toContain(id)
    const version = await ask(`${type}?${months}&measure=${encodeURIComponent(`${url}|9.0.0`)}`)
    expect(version.status).toBe(404)
    expect(version.body.issue[0]?.diagnostics).toContain('|1.1.0')
  })

  it('to repeat a subject in its answer', async () => {
    expect(JSON.stringify((await ask(`${instance}?${months}&subject=Patient/p1`)).body)).not.toContain('p1')
  })

  it.each([
    ['a body that is not JSON', post('{'), 400],
    ['another resource', post({ resourceType: 'Patient' }), 400],
    ['a list', post([]), 400],
    ['null', post('null'), 400],
    ['a form', post('periodStart=2026', 'application/x-www-form-urlencoded'), 415],
    ['XML', post('<Parameters/>', 'application/fhir+xml'), 415],
    ['a parameter without a name', post(parameters({ valueDate: '2026' })), 400],
    ['a parameter without a value', post(parameters({ name: 'periodStart' })), 400],
    ['a parameter with two values', post(parameters({ ...start, valueString: '2026' })), 400],
    ['a parameter with parts', post(parameters({ ...start, part: [start] })), 400],
    ['a value that is not text', post(parameters({ name: 'periodStart', valueInteger: 2026 })), 400],
    ['a parameter twice', post(parameters(start, start, end)), 400],
    ['parameters that are no list', post({ resourceType: 'Parameters', parameter: start }), 400],
    ['a body that is too large', post(parameters(start, end, { name: 'x', valueString: 'x'.repeat(70_000) })), 400],
  ])('%s', async (_, init, expected) => {
    const { status, body } = await ask(instance, init)
    expect(status).toBe(expected)
    expect(faultsOf(body)).toEqual([])
  })

  it('a parameter given both in the address and in the body', async () => {
    const { status, body } = await ask(`${instance}?periodStart=2025`, post(parameters(start, end)))
    expect([status, body.issue[0]?.diagnostics]).toEqual([400, 'periodStart is given more than once.'])
  })
})

describe('a fault during evaluation', () => {
  const faulty = (thrown: unknown) => appUnderTest(() => Promise.reject(thrown)).get(`${instance}?${months}`)

  it('that was written for the caller is told with its status', async () => {
    const response = await faulty(new ReportableError('source-timeout', 'The source did not answer in time.'))
    expect(response.status).toBe(504)
    expect(await response.json()).toMatchObject({
      issue: [{ code: 'timeout', diagnostics: 'The source did not answer in time.' }],
    })
  })

  it('that was not keeps its text inside', async () => {
    const response = await faulty(new Error('Patient/p1 has no birth date'))
    expect(response.status).toBe(500)
    const text = await response.text()
    expect(faultsOf(JSON.parse(text))).toEqual([])
    expect(text).not.toContain('p1')
  })
})
