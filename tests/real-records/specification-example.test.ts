import type { FhirResource, Procedure } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { examine } from './hospital.ts'
import { load } from './load.ts'

/** The specification's examples, their colonoscopy given the day of its order (ServiceRequest/colonoscopy, authoredOn). */
const dated = load('fhir-specification').map(
  (resource): FhirResource =>
    resource.resourceType === 'Procedure' && resource.id === 'colonoscopy'
      ? ({ ...resource, performedDateTime: '2017-03-05' } satisfies Procedure)
      : resource,
)

describe('the specification’s own colonoscopy, given a date', async () => {
  const { records, leftOut } = await examine(dated)

  it('is the only colonoscopy among its examples', () => {
    expect(records.map(({ procedure }) => procedure)).toEqual(['Procedure/colonoscopy'])
    expect(leftOut).toEqual([])
  })

  it('is attributed by resource where the practitioner has no identifier of the configured system', () => {
    // Practitioner/example carries http://www.acme.org/practitioners|23 only; born 1974-12-25.
    expect(records[0]).toMatchObject({ operator: 'harbour/Practitioner/example', age: 42 })
  })

  it('has its biopsy, which carries no date, through partOf', () => {
    expect(records[0]?.tissueTakenOrTreated).toBe(true)
  })

  it('has no recorded perforation: one stands in a display, without code or reference', () => {
    const original = dated.find(({ id }) => id === 'colonoscopy') as Procedure
    expect(original.complicationDetail).toEqual([{ display: 'Perforated intestine condition' }])
    expect(records[0]?.perforation).toBeUndefined()
  })
})
