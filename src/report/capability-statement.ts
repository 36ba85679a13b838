import type { CapabilityStatement, CapabilityStatementRestResource } from 'fhir/r4'
import { canonicalBase } from '../fhir/canonical.ts'

/** Types that can be read and searched. */
export const servedTypes = [
  'Measure',
  'ValueSet',
  'CodeSystem',
  'ConceptMap',
  'StructureDefinition',
  'OperationDefinition',
] as const

/** Search parameters of every served type. */
export const searchParameters = [
  { name: '_id', type: 'token', documentation: 'Id, exactly.' },
  { name: 'url', type: 'uri', documentation: 'Canonical address, exactly, without a version.' },
  { name: 'version', type: 'token', documentation: 'Business version, exactly.' },
  { name: 'name', type: 'string', documentation: 'Start of the computable name, whatever its case.' },
] as const

/**
 * What this instance can do.
 * @param origin address at which it is reached, for example https://measures.example
 */
export function capabilityStatement(origin: string): CapabilityStatement {
  return {
    resourceType: 'CapabilityStatement',
    url: `${canonicalBase}/CapabilityStatement/colonoscopy-measures`,
    version: '1.0.0',
    name: 'ColonoscopyMeasures',
    title: 'Colonoscopy quality measures',
    status: 'active',
    experimental: false,
    date: '2026-11-25',
    publisher: 'Colonoscopy Measures project',
    description:
      'Colonoscopy quality measures evaluated over the records of configured FHIR servers. For quality improvement, not for decisions about a patient.',
    kind: 'instance',
    software: { name: 'colonoscopy-measures' },
    implementation: { description: 'Colonoscopy quality measures', url: `${origin}/fhir` },
    fhirVersion: '4.0.1',
    format: ['json', 'application/fhir+json'],
    rest: [
      {
        mode: 'server',
        documentation:
          'Unknown, repeated and empty parameters are refused. Measures are evaluated over examinations; reports are summaries and are not stored.',
        security: { description: 'A bearer token, unless started locally.' },
        resource: servedTypes.map(served),
      },
    ],
  }
}

function served(type: (typeof servedTypes)[number]): CapabilityStatementRestResource {
  return {
    type,
    interaction: [{ code: 'read' }, { code: 'search-type' }],
    searchParam: searchParameters.map(({ name, type: kind, documentation }) => ({
      name,
      definition: definitionOf(type, name),
      type: kind,
      documentation,
    })),
    ...(type === 'Measure' ? { operation: [evaluateMeasure] } : {}),
  }
}

const evaluateMeasure = {
  name: 'evaluate-measure',
  definition: 'http://hl7.org/fhir/OperationDefinition/Measure-evaluate-measure',
  documentation: `With the parameters x-as-of and x-unit, and limits, as in ${canonicalBase}/OperationDefinition/evaluate-measure.`,
}

/** Source: FHIR R4 (4.0.1), search parameters; all types but Measure share those of conformance resources. */
function definitionOf(type: (typeof servedTypes)[number], name: string): string {
  if (name === '_id') return 'http://hl7.org/fhir/SearchParameter/Resource-id'
  return `http://hl7.org/fhir/SearchParameter/${type === 'Measure' ? 'Measure' : 'conformance'}-${name}`
}
