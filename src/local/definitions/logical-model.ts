import type { ElementDefinition, StructureDefinition } from 'fhir/r4'
import type { Field } from '../../record/field.ts'
import { fields } from '../../record/fields.ts'
import { published } from './published.ts'

const root = 'colonoscopy'

/** Facts that linkage always knows; everything else may be not recorded. */
const alwaysThere = new Set(['procedure', 'source'])

/** The colonoscopy record as a FHIR logical model: what the author of a measure can write about. */
export function logicalModel(): StructureDefinition {
  const description =
    'One colonoscopy as flat facts, on which the criteria of every measure are evaluated. An absent element is not recorded, never no.'
  const header = published('StructureDefinition', root, 'Colonoscopy record', description)
  return {
    ...header,
    fhirVersion: '4.0.1',
    kind: 'logical',
    abstract: false,
    type: header.url,
    baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Element',
    derivation: 'specialization',
    differential: {
      element: [
        { id: root, path: root, short: header.title, definition: description, min: 0, max: '*' },
        ...elementsOf(root, fields),
      ],
    },
  }
}

function elementsOf(parent: string, of: Readonly<Record<string, Field>>): ElementDefinition[] {
  return Object.entries(of).flatMap(([name, field]) => {
    const path = `${parent}.${name}`
    return [element(path, alwaysThere.has(name) ? 1 : 0, field), ...(field.of ? elementsOf(path, field.of) : [])]
  })
}

function element(path: string, min: 0 | 1, field: Field): ElementDefinition {
  const sentences = [
    field.short,
    ...(field.unit === undefined ? [] : [`Unit (UCUM): ${field.unit}.`]),
    ...(field.values ? [wordsOf(field.values)] : []),
  ]
  const comment = [
    `Filled by: ${field.filledBy}`,
    ...(field.feed === undefined ? [] : [`Depends on the feed: ${field.feed}.`]),
  ]
  return {
    id: path,
    path,
    short: field.short,
    definition: sentences.join(' '),
    comment: comment.join(' '),
    min,
    max: field.type === 'list' ? '*' : '1',
    type: [{ code: field.type === 'list' ? 'BackboneElement' : field.type }],
    ...(field.values ? { binding: { strength: 'required', description: wordsOf(field.values) } } : {}),
  }
}

const wordsOf = (values: readonly string[]): string => `One of: ${values.join(', ')}.`
