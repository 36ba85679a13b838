import { expect, it } from 'vitest'
import type { Source } from '../../src/config.ts'
import { type Pulled, pullWindow } from '../../src/source/pull-window.ts'
import { answering, bundle, keysOf, type Loopback, procedure, serve, sourceAt } from './loopback.ts'

const march = { start: '2026-03-01', end: '2026-03-31' }
const need = { colonoscopyCodes: ['73761001'], historyProcedureCodes: [], observationCodes: ['399505005', 'polyp'] }
const reference = (to: string): { reference: string } => ({ reference: to })

function pull(server: Loopback, declared: Partial<Source> = {}): Promise<Pulled> {
  return pullWindow({ ...sourceAt(`${server.origin}/fhir`), ...declared }, march, need, fetch, {
    sleep: async () => {},
  })
}

const patient = { resourceType: 'Patient', id: 'a' }
const ofPatient = { subject: reference('Patient/a') }
const examined = procedure('p1', { ...ofPatient, encounter: reference('Encounter/e1') })
const encounter = { resourceType: 'Encounter', id: 'e1', ...ofPatient }
const polyp = (id: string, more: Record<string, unknown>) => ({
  resourceType: 'Observation',
  id,
  status: 'final',
  code: { coding: [{ code: '399505005' }] },
  ...ofPatient,
  ...more,
})
const observed = (pulled: Pulled): string[] => keysOf(pulled).filter((key) => key.startsWith('Observation'))
const asked = (server: Loopback, parameter: string): string[] =>
  server.asked
    .filter(({ type, query }) => type === 'Observation' && query.has(parameter))
    .map(({ query }) => query.toString())

// FHIR R4 (4.0.1), Observation, search parameters: patient, date, code, based-on.
it('reads observations that name neither the examination nor its encounter, even where others name them', async () => {
  const server = await serve(
    answering([
      examined,
      patient,
      encounter,
      polyp('in-the-encounter', { encounter: reference('Encounter/e1') }),
      polyp('by-patient-and-day', { effectiveDateTime: '2026-03-10' }),
      polyp('of-another-day', { effectiveDateTime: '2026-03-20' }),
    ]),
  )
  const pulled = await pull(server)
  expect(observed(pulled)).toEqual(['Observation/by-patient-and-day', 'Observation/in-the-encounter'])
  expect(asked(server, 'patient')).toEqual([
    'patient=Patient%2Fa&date=ge2026-03-09&date=lt2026-03-12&code=399505005%2Cpolyp&_count=200',
  ])
  expect(pulled.incomplete).toEqual([])
})

it('leaves the rest of the patient’s chart of that day where it is, though the server ignores the codes', async () => {
  const pulse = polyp('pulse', { code: { coding: [{ code: '8867-4' }] }, effectiveDateTime: '2026-03-10' })
  const all = [examined, patient, encounter, pulse, polyp('polyp', { effectiveDateTime: '2026-03-10' })]
  const server = await serve(
    answering(all, ({ type, query }) =>
      type === 'Observation' && query.has('code')
        ? { body: bundle(all.filter(({ resourceType }) => resourceType === 'Observation')) }
        : undefined,
    ),
  )
  const pulled = await pull(server)
  expect(observed(pulled)).toEqual(['Observation/polyp'])
  expect(pulled.notes).toEqual([
    'Source north: the server ignored a filter of Observation by patient and date and code; 1 rows that it excludes were left aside.',
  ])
})

it('reads observations that are based on the examination’s order', async () => {
  const order = { resourceType: 'ServiceRequest', id: 's1' }
  const server = await serve(
    answering([
      { ...examined, basedOn: [reference('ServiceRequest/s1')] },
      patient,
      encounter,
      order,
      polyp('written-later', { effectiveDateTime: '2026-05-01', basedOn: [reference('ServiceRequest/s1')] }),
      polyp('of-another-order', { effectiveDateTime: '2026-05-01', basedOn: [reference('ServiceRequest/s2')] }),
    ]),
  )
  expect(observed(await pull(server))).toEqual(['Observation/written-later'])
  expect(asked(server, 'based-on')).toEqual(['based-on=ServiceRequest%2Fs1&_count=200'])
})

it('asks for no observation by order where no examination names one', async () => {
  const server = await serve(answering([examined, patient, encounter]))
  await pull(server)
  expect(asked(server, 'based-on')).toEqual([])
})

it('where the search by order is refused or its filter ignored, a source that declares its polyps complete is not', async () => {
  const examination = { ...examined, basedOn: [reference('ServiceRequest/s1')] }
  const records = [examination, patient, encounter, { resourceType: 'ServiceRequest', id: 's1' }]
  const refusing = await serve(
    answering(records, ({ query }) => (query.has('based-on') ? { status: 400, body: '' } : undefined)),
  )
  const ignoring = await serve(
    answering(records, ({ query }) => (query.has('based-on') ? { body: bundle([polyp('any', {})]) } : undefined)),
  )
  const sentence = 'Source north: Observation by based-on cannot be searched'
  for (const [server, why] of [
    [refusing, 'status 400'],
    [ignoring, 'the server ignores the filter'],
  ] as const) {
    const undeclared = await pull(server)
    expect(undeclared.incomplete).toEqual([])
    expect(undeclared.notes).toEqual([`${sentence} (${why}). What only it could tell is not recorded.`])
    expect((await pull(server, { completeFeeds: ['polyps'] })).incomplete).toEqual([`${sentence} (${why}).`])
    expect(observed(undeclared)).toEqual([])
  }
})

it('a polypectomy that names the patient and the day, or the order, and nothing else is handed on', async () => {
  const snare = { code: { coding: [{ code: '274025005' }] }, ...ofPatient }
  const server = await serve(
    answering([
      examined,
      patient,
      encounter,
      procedure('by-day', snare),
      procedure('by-order', { ...snare, basedOn: [reference('ServiceRequest/s1')] }),
    ]),
  )
  const keys = keysOf(await pull(server))
  expect(keys).toContain('Procedure/by-day')
  expect(keys).toContain('Procedure/by-order')
})
