import { expect, it } from 'vitest'
import { admit } from '../../src/source/admit.ts'
import { OwnAddresses } from '../../src/source/own-addresses.ts'
import type { Resource } from '../../src/source/references.ts'

const base = 'https://fhir.north.example/r4'
const admitted = (resource: Resource): { contents: number; resource: Resource } => {
  const contents = admit(resource, new OwnAddresses(base))
  return { contents, resource }
}

it('makes references to the source itself relative at any depth, and leaves those to others absolute', () => {
  const { resource } = admitted({
    resourceType: 'Procedure',
    subject: { reference: `${base}/Patient/1` },
    performer: [{ actor: { reference: 'https://other.example/r4/Practitioner/1' } }],
    contained: [{ resourceType: 'Observation', hasMember: [{ reference: `${base}/Observation/2/_history/1` }] }],
    note: [{ text: `${base}/Patient/1` }],
    encounter: { reference: 'Encounter/1' },
  })
  expect(resource).toEqual({
    resourceType: 'Procedure',
    subject: { reference: 'Patient/1' },
    performer: [{ actor: { reference: 'https://other.example/r4/Practitioner/1' } }],
    contained: [{ resourceType: 'Observation', hasMember: [{ reference: 'Observation/2/_history/1' }] }],
    note: [{ text: `${base}/Patient/1` }],
    encounter: { reference: 'Encounter/1' },
  })
})

// FHIR R4 (4.0.1): Attachment has contentType and data; SampledData has data and no contentType.
it('leaves out what pictures and documents hold, but keeps that they are there, and keeps text and signals', () => {
  const report = admitted({
    resourceType: 'DiagnosticReport',
    presentedForm: [
      { contentType: 'application/pdf', data: 'JVBERi0=', title: 'as sent' },
      { contentType: 'text/plain; charset=utf-8', data: 'VHVidWxhciBhZGVub21h' },
      { data: 'VHVidWxhciBhZGVub21h' },
    ],
  })
  expect(report.contents).toBe(1)
  expect(report.resource.presentedForm).toEqual([
    { contentType: 'application/pdf', title: 'as sent' },
    { contentType: 'text/plain; charset=utf-8', data: 'VHVidWxhciBhZGVub21h' },
    { data: 'VHVidWxhciBhZGVub21h' },
  ])
  const media = admitted({ resourceType: 'Media', content: { data: '/9j/4AAQ', url: 'https://pictures.example/1' } })
  expect(media.contents).toBe(1)
  expect(media.resource.content).toEqual({ url: 'https://pictures.example/1' })
  const signal = { origin: { value: 0 }, period: 10, dimensions: 1, data: '1 2 3' }
  expect(admitted({ resourceType: 'Observation', valueSampledData: signal }).resource.valueSampledData).toEqual(signal)
})

it('takes bodies nested as deeply as they come', () => {
  let json: unknown = { reference: `${base}/Patient/1` }
  for (let depth = 0; depth < 100_000; depth += 1) json = { extension: [json] }
  admit({ resourceType: 'Procedure', extension: json }, new OwnAddresses(base))
  for (let depth = 0; depth < 100_000; depth += 1) json = (json as { extension: unknown[] }).extension[0]
  expect(json).toEqual({ reference: 'Patient/1' })
})
