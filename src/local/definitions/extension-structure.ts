import type { ElementDefinition, StructureDefinition } from 'fhir/r4'
import { canonicalBase } from '../../fhir/canonical.ts'
import type { ExtensionDefinition } from './extensions.ts'
import { published } from './published.ts'

type Value = Extract<ExtensionDefinition['holds'], { type: string }>

/** The StructureDefinition (differential only) of one extension: either one value, or named parts and no value. */
export function extensionStructure(extension: ExtensionDefinition): StructureDefinition {
  const { id, title, description, context, holds } = extension
  const header = published('StructureDefinition', id, title, description)
  return {
    ...header,
    fhirVersion: '4.0.1',
    kind: 'complex-type',
    abstract: false,
    context: context.map((expression) => ({ type: 'element', expression })),
    type: 'Extension',
    baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Extension',
    derivation: 'constraint',
    differential: {
      element: [
        { id: 'Extension', path: 'Extension', short: title, definition: description, min: 0, max: '*' },
        ...(isValue(holds) ? [absent('Extension.extension')] : Object.entries(holds).flatMap(partElements)),
        { id: 'Extension.url', path: 'Extension.url', fixedUri: header.url },
        isValue(holds) ? valueElement('Extension.value[x]', holds) : absent('Extension.value[x]'),
      ],
    },
  }
}

const isValue = (holds: ExtensionDefinition['holds']): holds is Value => typeof holds.type === 'string'

const absent = (path: string): ElementDefinition => ({ id: path, path, max: '0' })

function partElements([name, part]: [string, Value & { readonly min: 0 | 1 }]): ElementDefinition[] {
  const id = `Extension.extension:${name}`
  const path = 'Extension.extension'
  return [
    { id, path, sliceName: name, short: part.meaning, min: part.min, max: '1' },
    { id: `${id}.extension`, path: `${path}.extension`, max: '0' },
    { id: `${id}.url`, path: `${path}.url`, fixedUri: name },
    valueElement(`${path}.value[x]`, part, `${id}.value[x]`),
  ]
}

function valueElement(path: string, { type, meaning, valueSet }: Value, id = path): ElementDefinition {
  return {
    id,
    path,
    short: meaning,
    min: 1,
    type: [{ code: type }],
    ...(valueSet === undefined
      ? {}
      : { binding: { strength: 'required' as const, valueSet: `${canonicalBase}/ValueSet/${valueSet}` } }),
  }
}
