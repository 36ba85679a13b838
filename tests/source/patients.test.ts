import type { FhirResource } from 'fhir/r4'
import { expect, it } from 'vitest'
import { createFhirServer } from '../../src/local/fhir-server/server.ts'
import { pullWindow } from '../../src/source/pull-window.ts'
import { procedure, sourceAt } from './loopback.ts'

const baseUrl = 'http://north.example/fhir'
const window = { start: '2026-03-10', end: '2026-03-10' }

/** Type/id of everything that one day's window of a server holds. */
async function pulled(resources: readonly FhirResource[]): Promise<string[]> {
  const server = createFhirServer(resources, { baseUrl })
  const { resources: found, incomplete } = await pullWindow(
    sourceAt(baseUrl),
    window,
    { colonoscopyCodes: ['73761001'], historyProcedureCodes: ['26390003'] },
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
