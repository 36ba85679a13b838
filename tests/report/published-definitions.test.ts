import { readdirSync, readFileSync } from 'node:fs'
import type { FhirResource, OperationDefinition, StructureDefinition } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { canonicalBase } from '../../src/fhir/canonical.ts'
import { generatedResources } from '../../src/local/definitions/generated-resources.ts'
import type { Field } from '../../src/record/field.ts'
import { fields } from '../../src/record/fields.ts'
import { servedTypes } from '../../src/report/capability-statement.ts'
import { evaluateParameters } from '../../src/routes/evaluate-parameters.ts'
import { apartReasons } from '../../src/tally/result.ts'
import { extensionFaults } from './own-extensions.ts'
import { faultsOf } from './r4-validator.ts'

const files = readdirSync('measures').filter((name) => name.endsWith('.json') && name !== 'digests.json')
const read = (name: string): FhirResource => JSON.parse(readFileSync(`measures/${name}`, 'utf8')) as FhirResource
const withUrl = (resource: FhirResource): { url?: string } => resource as { url?: string }

describe.each(files)('%s', (file) => {
  const resource = read(file)

  it('is valid R4', () => {
    expect(faultsOf(resource)).toEqual([])
  })

  it('is of a type that is served, and is named by type and id', () => {
    expect(servedTypes).toContain(resource.resourceType)
    expect(file).toBe(`${resource.resourceType}-${resource.id}.json`)
    expect(withUrl(resource).url).toBe(`${canonicalBase}/${resource.resourceType}/${resource.id}`)
  })

  it('uses our extensions only as they are published', () => {
    expect(extensionFaults(resource, resource.resourceType)).toEqual([])
  })
})

describe('generated definitions', () => {
  it.each(generatedResources().map((resource) => [`${resource.resourceType}-${resource.id}.json`, resource] as const))(
    '%s is committed as it is generated: else run node src/local/definitions/write.ts',
    (file, resource) => {
      expect(read(file)).toEqual(resource)
    },
  )

  it('leave no structure or operation definition that nothing generates', () => {
    const generated = new Set(generatedResources().map(({ resourceType, id }) => `${resourceType}-${id}.json`))
    expect(files.filter((file) => /^(Structure|Operation)Definition-/.test(file) && !generated.has(file))).toEqual([])
  })
})

describe('the logical model', () => {
  const model = read('StructureDefinition-colonoscopy.json') as StructureDefinition
  const elements = model.differential?.element ?? []

  // Rules of R4 (4.0.1) for logical models: StructureDefinition.kind, .type, .derivation; invariants sdf-8 and sdf-9.
  it('is a specialisation of Element whose type is its own address', () => {
    expect(model).toMatchObject({
      kind: 'logical',
      type: model.url,
      derivation: 'specialization',
      baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Element',
    })
    const [root, ...rest] = elements.map(({ path }) => path)
    expect(rest.filter((path) => !path.startsWith(`${root}.`))).toEqual([])
  })

  it('has one element for every field, and one for every field of an element of a list', () => {
    const expected = Object.entries<Field>(fields).flatMap(([name, { of = {} }]) => [
      name,
      ...Object.keys(of).map((inner) => `${name}.${inner}`),
    ])
    expect(expected).toContain('polyps.site')
    const actual = elements.slice(1).map(({ path }) => path.replace('colonoscopy.', ''))
    expect(actual.toSorted()).toEqual(expected.toSorted())
  })

  it('says the unit, the words, the source and the feed of a fact', () => {
    const element = (name: string) => elements.find(({ path }) => path === `colonoscopy.${name}`)
    expect(element('withdrawalMinutes')?.definition).toContain('Unit (UCUM): min.')
    expect(element('attachmentKind')?.binding?.description).toBe('One of: cuff, cap.')
    expect(element('adenomaCount')?.comment).toContain('Depends on the feed: pathology.')
    expect(element('age')?.comment).toContain('Patient.birthDate')
    expect(element('polyps')?.max).toBe('*')
  })
})

describe('the words of the reports', () => {
  it('publish every reason for standing apart', () => {
    const system = read('CodeSystem-apart-reason.json')
    const codes = system.resourceType === 'CodeSystem' ? system.concept?.map(({ code }) => code) : undefined
    expect(codes?.toSorted()).toEqual(apartReasons.toSorted())
  })
})

describe('the operation definition', () => {
  it('names the parameters that the operation takes, with those of R4 among them', () => {
    const operation = read('OperationDefinition-evaluate-measure.json') as OperationDefinition
    const taken = operation.parameter?.filter(({ use }) => use === 'in').map(({ name }) => name)
    expect(taken).toEqual([...evaluateParameters])
    // FHIR R4 (4.0.1), OperationDefinition Measure-evaluate-measure.
    expect(taken).toEqual(
      expect.arrayContaining([
        'periodStart',
        'periodEnd',
        'measure',
        'reportType',
        'subject',
        'practitioner',
        'lastReceivedOn',
      ]),
    )
  })
})
