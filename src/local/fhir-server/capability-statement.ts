import type { CapabilityStatement, FhirResource } from 'fhir/r4'
import { searchParameters } from './search-parameters.ts'

const types = Object.keys(searchParameters) as FhirResource['resourceType'][]

/** What this server can do, and nothing else. */
export function capabilityStatement(base: string): CapabilityStatement {
  const includes = (type: string): string[] =>
    Object.entries(searchParameters[type] ?? {}).flatMap(([name, { kind }]) =>
      kind === 'reference' ? [`${type}:${name}`] : [],
    )
  const revIncludes = (type: string): string[] =>
    Object.entries(searchParameters).flatMap(([source, parameters]) =>
      Object.entries(parameters).flatMap(([name, { targets }]) =>
        targets?.includes(type) ? [`${source}:${name}`] : [],
      ),
    )
  return {
    resourceType: 'CapabilityStatement',
    status: 'active',
    date: '2026-11-25',
    kind: 'instance',
    implementation: { description: 'A small read-only FHIR server for demonstrations and tests', url: base },
    fhirVersion: '4.0.1',
    format: ['application/fhir+json'],
    rest: [
      {
        mode: 'server',
        resource: types.map((type) => {
          const parameters = searchParameters[type] ?? {}
          const [own, reverse] = [includes(type), revIncludes(type)]
          return {
            type,
            interaction: [{ code: 'read' }, { code: 'search-type' }],
            ...(own.length > 0 && { searchInclude: own }),
            ...(reverse.length > 0 && { searchRevInclude: reverse }),
            searchParam: Object.entries(parameters).map(([name, { kind }]) => ({ name, type: kind })),
          }
        }),
      },
    ],
  }
}
