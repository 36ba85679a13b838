import type { Bundle, FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { canonicalBase } from '../../src/fhir/canonical.ts'
import { servedTypes } from '../../src/report/capability-statement.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { appUnderTest, bodyOf, definitions, diagnosticsOf } from './app-under-test.ts'

const { get } = appUnderTest()
const found = async (path: string) => bodyOf<Bundle>(await get(path))
const diagnostics = async (path: string) => diagnosticsOf(await get(path))
const ids = (bundle: Bundle) => bundle.entry?.map(({ resource }) => resource?.id) ?? []

describe('reads', () => {
  it('answer every published resource as FHIR JSON, unchanged', async () => {
    const all: FhirResource[] = [...definitions.measures.map(({ resource }) => resource), ...definitions.resources]
    for (const resource of all) {
      const response = await get(`/fhir/${resource.resourceType}/${resource.id}`)
      expect(response.headers.get('content-type')).toBe('application/fhir+json; charset=utf-8')
      expect(await response.json()).toEqual(resource)
    }
  })

  it('answer the capability statement', async () => {
    expect(await bodyOf(await get('/fhir/metadata'))).toMatchObject({
      resourceType: 'CapabilityStatement',
      fhirVersion: '4.0.1',
    })
  })

  it.each(['/fhir/Measure/none', '/fhir/Patient/1', '/fhir/Patient', '/nowhere', '/fhir/Measure/none/history/1'])(
    'answer 404 for %s',
    async (path) => {
      const response = await get(path)
      expect(response.status).toBe(404)
      expect(faultsOf(await bodyOf(response))).toEqual([])
    },
  )

  it('name the types there are', async () => {
    expect(await diagnostics('/fhir/Patient/1')).toContain('Measure, ValueSet, CodeSystem')
  })

  it('are safe against names of Object.prototype', async () => {
    for (const path of [
      '/fhir/constructor',
      '/fhir/__proto__/x',
      '/fhir/Measure?constructor=1',
      '/fhir/Measure/toString',
    ])
      expect((await get(path)).status, path).toBeGreaterThanOrEqual(400)
  })
})

describe('searches', () => {
  it.each(servedTypes)('find every %s', async (type) => {
    const bundle = await found(`/fhir/${type}`)
    expect(faultsOf(bundle)).toEqual([])
    expect(bundle.total).toBe(bundle.entry?.length)
    expect(bundle.total).toBeGreaterThan(0)
  })

  it('match url and _id exactly, a name from its start, alternatives after a comma', async () => {
    const id = 'adenoma-detection-rate-us-2024'
    const url = `${canonicalBase}/Measure/${id}`
    expect(ids(await found(`/fhir/Measure?url=${url}`))).toEqual([id])
    expect(ids(await found(`/fhir/Measure?url=${url.slice(0, -1)}`))).toEqual([])
    expect(ids(await found(`/fhir/Measure?_id=${id},withdrawal-time-us-2024`))).toHaveLength(2)
    expect(ids(await found('/fhir/Measure?name=withdrawaltimeus'))).toEqual([
      'withdrawal-time-us-2015',
      'withdrawal-time-us-2024',
    ])
    expect(ids(await found('/fhir/Measure?name=time'))).toEqual([])
    expect(ids(await found(`/fhir/Measure?_id=${id}&version=0.0.1`))).toEqual([])
  })

  it('say what they looked for in their self link, and where the matches are', async () => {
    const bundle = await found('http://measures.example/fhir/ValueSet?_id=bleeding')
    expect(bundle.link).toEqual([{ relation: 'self', url: 'http://measures.example/fhir/ValueSet?_id=bleeding' }])
    expect(bundle.entry?.[0]?.fullUrl).toBe('http://measures.example/fhir/ValueSet/bleeding')
  })

  it('without matches are valid and say 0', async () => {
    const bundle = await found('/fhir/Measure?_id=none')
    expect(faultsOf(bundle)).toEqual([])
    expect(bundle.total).toBe(0)
  })

  it.each([
    ['title=x', '"title" is not known here. Known: _id, url, version, name.'],
    ['url:below=x', '"url:below" is not known here'],
    ['_id=a&_id=b', '_id is given more than once'],
    ['_id=', '_id is empty'],
  ])('refuse ?%s', async (query, message) => {
    expect((await get(`/fhir/Measure?${query}`)).status).toBe(400)
    expect(await diagnostics(`/fhir/Measure?${query}`)).toContain(message)
  })

  it('refuse parameters of a read', async () => {
    expect((await get('/fhir/Measure/withdrawal-time-us-2024?_summary=true')).status).toBe(400)
  })
})
