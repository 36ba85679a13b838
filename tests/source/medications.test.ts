import { expect, it } from 'vitest'
import type { Source } from '../../src/config.ts'
import { type Pulled, pullWindow } from '../../src/source/pull-window.ts'
import { type Answer, type Asked, answering, keysOf, type Loopback, procedure, serve, sourceAt } from './loopback.ts'

const march = { start: '2026-03-01', end: '2026-03-31' }
const need = { colonoscopyCodes: ['73761001'], historyProcedureCodes: [], observationCodes: [] }
const reference = (to: string): { reference: string } => ({ reference: to })

function pull(server: Loopback, declared: Partial<Source> = {}): Promise<Pulled> {
  return pullWindow({ ...sourceAt(`${server.origin}/fhir`), ...declared }, march, need, fetch, {
    sleep: async () => {},
  })
}

const given = (id: string, effectiveDateTime: string, more: Record<string, unknown> = {}) => ({
  resourceType: 'MedicationAdministration',
  id,
  status: 'completed',
  subject: reference('Patient/a'),
  effectiveDateTime,
  ...more,
})
const patient = { resourceType: 'Patient', id: 'a' }
const examined = procedure('p1', { subject: reference('Patient/a'), encounter: reference('Encounter/e1') })
const encounter = { resourceType: 'Encounter', id: 'e1', subject: reference('Patient/a') }
const ofEncounter = { context: reference('Encounter/e1'), medicationReference: reference('Medication/m1') }
const medication = { resourceType: 'Medication', id: 'm1' }
const asked = (server: Loopback): string[] =>
  server.asked.filter(({ type }) => type === 'MedicationAdministration').map(({ query }) => query.toString())
const given1 = (pulled: Pulled): string[] => keysOf(pulled).filter((key) => key.startsWith('Medication'))

const byContext = 'context=Encounter%2Fe1&_count=200'
const byPatient = 'patient=Patient%2Fa&effective-time=ge2026-03-09&effective-time=lt2026-03-12&_count=200'

// FHIR R4 (4.0.1), MedicationAdministration, search parameters: context, patient, effective-time; none by partOf.
it('reads the drugs of an examination’s encounter, and what they are', async () => {
  const records = [examined, patient, encounter, medication, given('d1', '2026-03-10T09:05:00Z', ofEncounter)]
  const server = await serve(answering(records))
  const pulled = await pull(server)
  expect(given1(pulled)).toEqual(['Medication/m1', 'MedicationAdministration/d1'])
  expect(asked(server)).toEqual([byContext, byPatient])
  expect(pulled.incomplete).toEqual([])
})

it('a drug of the ward that names the encounter does not hide those of the examination that do not', async () => {
  const records = [
    examined,
    patient,
    encounter,
    medication,
    given('two-days-before', '2026-03-08T09:00:00Z', ofEncounter),
    given('d1', '2026-03-10T09:05:00Z', { partOf: [reference('Procedure/p1')] }),
  ]
  const server = await serve(answering(records))
  expect(given1(await pull(server))).toEqual([
    'Medication/m1',
    'MedicationAdministration/d1',
    'MedicationAdministration/two-days-before',
  ])
})

it('of an examination that is only known by its month the drugs of the month are read', async () => {
  const records = [
    procedure('p1', { subject: reference('Patient/a'), performedDateTime: '2026-03' }),
    patient,
    given('d1', '2026-03-20T09:05:00Z'),
    given('in-may', '2026-05-20T09:05:00Z'),
  ]
  const server = await serve(answering(records))
  expect(given1(await pull(server))).toEqual(['MedicationAdministration/d1'])
})

it('reads those of the patient on the day, the day before and the day after', async () => {
  const records = [
    examined,
    patient,
    encounter,
    given('d1', '2026-03-10T09:05:00Z'),
    given('sixteen-days-later', '2026-03-26T09:05:00Z'),
  ]
  const server = await serve(answering(records))
  const pulled = await pull(server)
  expect(given1(pulled)).toEqual(['MedicationAdministration/d1'])
  expect(asked(server)).toEqual([byContext, byPatient])
  expect(pulled.notes).toEqual([
    'Source north: the server ignored a filter of MedicationAdministration by patient and effective-time; 1 rows that it excludes were left aside.',
  ])
})

it('reads those of the patient where the examination names no encounter, under every record of the person', async () => {
  const records = [
    procedure('p1', { subject: reference('Patient/a') }),
    { ...patient, link: [{ type: 'replaces', other: reference('Patient/former') }] },
    { resourceType: 'Patient', id: 'former' },
    given('d1', '2026-03-10T09:05:00Z', { subject: reference('Patient/former') }),
  ]
  const server = await serve(answering(records))
  expect(given1(await pull(server))).toEqual(['MedicationAdministration/d1'])
  expect(asked(server)).toEqual([
    'patient=Patient%2Fa%2CPatient%2Fformer&effective-time=ge2026-03-09&effective-time=lt2026-03-12&_count=200',
  ])
})

it('leaves aside what a patient was given on the day of another patient of the same query', async () => {
  const records = [
    procedure('p1', { subject: reference('Patient/a') }),
    procedure('p2', { subject: reference('Patient/b'), performedDateTime: '2026-03-20T09:00:00Z' }),
    patient,
    { resourceType: 'Patient', id: 'b' },
    given('on-the-own-day', '2026-03-10T09:05:00Z'),
    given('on-the-other-day', '2026-03-20T09:05:00Z'),
  ]
  const server = await serve(answering(records))
  expect(given1(await pull(server))).toEqual(['MedicationAdministration/on-the-own-day'])
})

function refusing(parameters: readonly string[]): (asked: Asked) => Answer | undefined {
  return ({ type, query }) =>
    type === 'MedicationAdministration' && parameters.some((name) => query.has(name))
      ? { status: 400, body: '' }
      : undefined
}

it('searches by patient where the server refuses to search by context, and loses nothing', async () => {
  const records = [examined, patient, encounter, medication, given('d1', '2026-03-10T09:05:00Z', ofEncounter)]
  const server = await serve(answering(records, refusing(['context'])))
  const pulled = await pull(server)
  expect(given1(pulled)).toEqual(['Medication/m1', 'MedicationAdministration/d1'])
  expect(asked(server)).toEqual([byContext, byPatient])
  expect(pulled.incomplete).toEqual([])
  expect(pulled.notes).toEqual([
    'Source north: MedicationAdministration by context cannot be searched (status 400). It was searched by patient instead.',
  ])
})

it('a source that lets drugs be searched by nothing is complete without them, unless it declares that it sends them all', async () => {
  const server = await serve(answering([examined, patient, encounter], refusing(['context', 'patient'])))
  const undeclared = await pull(server)
  expect(undeclared.incomplete).toEqual([])
  expect(undeclared.notes).toContain(
    'Source north: MedicationAdministration by patient and effective-time cannot be searched (status 400). What only it could tell is not recorded.',
  )
  const declared = await pull(server, { completeFeeds: ['medication'] })
  expect(declared.incomplete).toEqual([
    'Source north: MedicationAdministration by patient and effective-time cannot be searched (status 400).',
  ])
})

it('asks for patients who were examined at the same time together, so that few days are read for each', async () => {
  const many = Array.from({ length: 30 }, (_, index) => {
    const day = String(index + 1).padStart(2, '0')
    return procedure(`p${day}`, {
      subject: reference(`Patient/${30 - index}`),
      performedDateTime: `2026-03-${day}T09:00:00Z`,
    })
  })
  const people = many.map((_, index) => ({ resourceType: 'Patient', id: String(index + 1) }))
  const server = await serve(answering([...many, ...people]))
  await pull(server)
  const days = server.asked
    .filter(({ type }) => type === 'MedicationAdministration')
    .map(({ query }) => query.getAll('effective-time'))
  expect(days).toEqual([
    ['ge2026-02-28', 'lt2026-03-27'],
    ['ge2026-03-25', 'lt2026-04-01'],
  ])
})
