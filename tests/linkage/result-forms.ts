import { type Resource, snomed } from '../stories/examination.ts'

/** A reference to a resource of this type and id. */
export const to = (key: string): Resource => ({ reference: key })
export const specimens = (...ids: string[]): Resource[] => ids.map((id) => to(`Specimen/${id}`))
export const sharedEncounter = { encounter: to('Encounter/encounter-a') }
/** A code of a laboratory of its own that nobody maps. */
export const unmapped: Resource = { coding: [{ system: 'http://lab.example/codes', code: 'TA' }] }

/** A report of surgical pathology of examination `a`, tied to it by its specimens or by what else is given. */
export const reportOf = (id: string, more: Resource): Resource => ({
  resourceType: 'DiagnosticReport',
  id,
  status: 'final',
  code: { coding: [{ system: 'http://loinc.org', code: '11526-1' }] },
  subject: to('Patient/patient-a'),
  issued: '2026-03-15T12:00:00Z',
  ...more,
})

/** A result of pathology, of a specimen where one is named. */
export const resultOf = (id: string, more: Resource, specimen?: string): Resource => ({
  resourceType: 'Observation',
  id,
  status: 'final',
  code: { coding: [{ system: 'http://loinc.org', code: '34574-4' }] },
  ...(specimen !== undefined && { specimen: to(`Specimen/${specimen}`) }),
  ...more,
})

/** A result whose value is a code of SNOMED CT. */
export const diagnosis = (id: string, code: string, specimen?: string): Resource =>
  resultOf(id, { valueCodeableConcept: snomed(code) }, specimen)
