import type { FhirResource } from 'fhir/r4'
import { expect, it } from 'vitest'
import { createFhirServer } from '../../src/local/fhir-server/server.ts'
import { pullWindow } from '../../src/source/pull-window.ts'
import { answering, keysOf, type Loopback, procedure, serve, sourceAt } from './loopback.ts'

const baseUrl = 'http://north.example/fhir'
const window = { start: '2026-03-10', end: '2026-03-10' }

/** Type/id of everything that one day's window of a server holds. */
async function pulled(resources: readonly FhirResource[]): Promise<string[]> {
  const server = createFhirServer(resources, { baseUrl })
  const { resources: found, incomplete } = await pullWindow(
    sourceAt(baseUrl),
    window,
    { colonoscopyCodes: ['73761001'], historyProcedureCodes: ['26390003'], observationCodes: [] },
    (url, init) => server(new Request(url, init)),
  )
  expect(incomplete).toEqual([])
  return found.map((one) => {
    const { resourceType, id } = one as FhirResource
    return `${resourceType}/${id}`
  })
}

const patient = (id: string, type?: 'replaces' | 'replaced-by', other?: string): FhirResource => ({
  resourceType: 'Patient',
  id,
  ...(type && other && { link: [{ type, other: { reference: `Patient/${other}` } }] }),
})
const of = (id: string) => ({ subject: { reference: `Patient/${id}` } })
const examination = (id: string, patientId: string, date: string): FhirResource =>
  procedure(id, { ...of(patientId), performedDateTime: date }) as unknown as FhirResource
const bleeding = { resourceType: 'Condition', id: 'bleeding', ...of('former') } as FhirResource

// FHIR R4 (4.0.1), Patient, linking patients: after a merge the record that stands replaces the other, which is kept.
it('after a merge what is filed under the person’s other record is read too: rivals, and what followed', async () => {
  const records = [
    examination('own', 'standing', '2026-03-10T09:00:00Z'),
    examination('rival', 'former', '2026-04-01T09:00:00Z'),
    bleeding,
    patient('standing', 'replaces', 'former'),
    patient('former', 'replaced-by', 'standing'),
  ]
  expect(await pulled(records)).toEqual(records.map(({ resourceType, id }) => `${resourceType}/${id}`).sort())
})

it('without a link the other record is somebody else', async () => {
  const records = [
    examination('own', 'standing', '2026-03-10T09:00:00Z'),
    examination('rival', 'former', '2026-04-01T09:00:00Z'),
    bleeding,
    patient('standing'),
    patient('former'),
  ]
  expect(await pulled(records)).toEqual(['Patient/standing', 'Procedure/own'])
})

it('links that go round in a circle are followed once', async () => {
  const records = [
    examination('own', 'one', '2026-03-10T09:00:00Z'),
    patient('one', 'replaced-by', 'two'),
    patient('two', 'replaced-by', 'one'),
  ]
  expect(await pulled(records)).toEqual(['Patient/one', 'Patient/two', 'Procedure/own'])
})

const hospitalNumbers = 'https://hospital.example/numbers'
const byNumber = (value: string) => ({ subject: { type: 'Patient', identifier: { system: hospitalNumbers, value } } })
const numbered = (id: string, value: string, more: Record<string, unknown> = {}) => ({
  resourceType: 'Patient',
  id,
  identifier: [{ system: hospitalNumbers, value }],
  ...more,
})
const colitis = { resourceType: 'Condition', id: 'colitis', ...of('a') }
const need = { colonoscopyCodes: ['73761001'], historyProcedureCodes: [], observationCodes: ['399505005'] }
const pull = (server: Loopback) =>
  pullWindow(sourceAt(`${server.origin}/fhir`), window, need, fetch, { sleep: async () => {} })
const nothingRead = (count: number) =>
  `Source north: ${count} colonoscopies name their patient by an identifier alone that no patient’s record carries, or those of several people; nothing that is filed under the patient was read for them.`

// FHIR R4 (4.0.1), References, logical references: who is named by an identifier alone is found by it.
it('a patient named by an identifier alone is looked up, and what is filed under the record is read', async () => {
  const drug = { resourceType: 'MedicationAdministration', id: 'drug', effectiveDateTime: '2026-03-10', ...of('a') }
  const polyp = {
    resourceType: 'Observation',
    id: 'polyp',
    code: { coding: [{ code: '399505005' }] },
    effectiveDateTime: '2026-03-10',
    ...of('a'),
  }
  const server = await serve(
    answering([procedure('own', byNumber('1')), numbered('a', '1'), numbered('b', '2'), colitis, drug, polyp]),
  )
  const pulled = await pull(server)
  expect(keysOf(pulled)).toEqual([
    'Condition/colitis',
    'MedicationAdministration/drug',
    'Observation/polyp',
    'Patient/a',
    'Procedure/own',
  ])
  expect(server.asked.filter(({ type }) => type === 'Patient').map(({ query }) => query.toString())).toEqual([
    'identifier=https%3A%2F%2Fhospital.example%2Fnumbers%7C1&_count=200',
  ])
  expect(pulled.incomplete).toEqual([])
})

it('a conditional reference to the patient is looked up in the same way', async () => {
  const conditional = { subject: { reference: `Patient?identifier=${hospitalNumbers}|1` } }
  const server = await serve(answering([procedure('own', conditional), numbered('a', '1'), colitis]))
  expect(keysOf(await pull(server))).toEqual(['Condition/colitis', 'Patient/a', 'Procedure/own'])
})

it('examinations whose patient no record carries, or the records of several people, are counted as incomplete', async () => {
  const server = await serve(
    answering([
      procedure('of-nobody', byNumber('9')),
      procedure('of-one-of-two', byNumber('2')),
      procedure('of-somebody', byNumber('1')),
      numbered('a', '1'),
      numbered('b', '2'),
      numbered('c', '2'),
    ]),
  )
  expect((await pull(server)).incomplete).toEqual([nothingRead(2)])
})

it('the records of one person, merged, may carry one identifier', async () => {
  const server = await serve(
    answering([
      procedure('own', byNumber('1')),
      numbered('a', '1'),
      numbered('standing', '1', { link: [{ type: 'replaces', other: { reference: 'Patient/a' } }] }),
      colitis,
    ]),
  )
  const pulled = await pull(server)
  expect(pulled.incomplete).toEqual([])
  expect(keysOf(pulled)).toContain('Condition/colitis')
})

it('a server that cannot search patients by identifier leaves the pull incomplete', async () => {
  const server = await serve(
    answering([procedure('own', byNumber('1')), numbered('a', '1')], ({ query }) =>
      query.has('identifier') ? { status: 400, body: '' } : undefined,
    ),
  )
  expect((await pull(server)).incomplete).toEqual([
    nothingRead(1),
    'Source north: Patient by identifier cannot be searched (status 400).',
  ])
})

// FHIR R4 (4.0.1), Search, Escaping Search Parameters.
it('an identifier with a comma, a bar or a dollar is asked for as one value', async () => {
  const server = await serve(answering([procedure('own', byNumber('A,1|$'))]))
  await pull(server)
  expect(server.asked.flatMap(({ query }) => query.get('identifier') ?? [])).toEqual([`${hospitalNumbers}|A\\,1\\|\\$`])
})

it('a subject that is a group is looked up as nobody', async () => {
  const group = { subject: { type: 'Group', identifier: { system: hospitalNumbers, value: '1' } } }
  const server = await serve(answering([procedure('own', group), numbered('a', '1')]))
  expect(keysOf(await pull(server))).toEqual(['Procedure/own'])
})
