import { readMoment } from './dates.ts'
import { elementShapes, neededElements, type Shape, type Shapes } from './element-shapes.ts'
import { asNumber, asObject, asObjects, asText, type Json } from './json.ts'
import { keyOf, referencedIdentifier } from './references.ts'

/** Elements of which at least one stands in each type; an object with none of them says nothing that is read. */
const told: Readonly<Record<string, readonly string[]>> = {
  concept: ['coding', 'text'],
  coding: ['system', 'code', 'display'],
  reference: ['reference', 'identifier', 'display', 'type'],
  quantity: ['value', 'comparator', 'unit', 'system', 'code'],
  identifier: ['system', 'value', 'type', 'use'],
}
const codingShapes: Shapes = { system: 'text', code: 'text' }
const conceptShapes: Shapes = { coding: 'coding', text: 'text' }
const identifierShapes: Shapes = { system: 'text', value: 'text' }
const quantityShapes: Shapes = { value: 'number', unit: 'text', system: 'text', code: 'text' }

/**
 * What in a resource is not of the shape that R4 gives it, among the elements that linkage reads: each as its element and what is
 * wrong with it. What is not of its shape is not read, and counts as not recorded.
 */
export function shapeFaults(resource: Json): string[] {
  const { resourceType, id } = resource
  const type = String(resourceType)
  const shapes = elementShapes[type]
  if (shapes === undefined) return []
  const faults = new Set<string>()
  if (asText(id) === undefined) faults.add(`${type}.id (missing)`)
  checkElements(resource, shapes, type, resource, faults)
  return [...faults]
}

function checkElements(holder: Json, shapes: Shapes, path: string, resource: Json, faults: Set<string>): void {
  for (const names of neededElements[path] ?? [])
    if (!holdsAny(holder, names.split('|'))) faults.add(`${path}.${names} (missing)`)
  for (const name in shapes) {
    const standing = holder[name]
    if (standing === undefined || standing === null) continue
    const shape = shapes[name] as Shape
    if (!Array.isArray(standing)) check(standing, shape, `${path}.${name}`, resource, faults)
    else for (const one of standing) check(one, shape, `${path}.${name}`, resource, faults)
  }
}

function check(standing: unknown, shape: Shape, path: string, resource: Json, faults: Set<string>): void {
  const add = (wrong: string) => faults.add(`${path} (${wrong})`)
  if (shape instanceof Set) {
    if (!shape.has(asText(standing) ?? '')) add('not a code of R4')
    return
  }
  switch (shape) {
    case 'text':
      if (typeof standing !== 'string') add('no text')
      return
    case 'number':
      if (asNumber(standing) === undefined) add('no number')
      return
    case 'boolean':
      if (typeof standing !== 'boolean') add('neither true nor false')
      return
    case 'date':
      if (readMoment(standing, 'UTC') === undefined) add('no date')
      return
    default:
  }
  const object = asObject(standing)
  if (object === undefined) {
    add('no object')
    return
  }
  if (typeof shape !== 'string') {
    if (!holdsAny(object, Object.keys(shape as Shapes))) add('nothing in it that is read')
    checkElements(object, shape as Shapes, path, resource, faults)
    return
  }
  if (!holdsAny(object, told[shape] ?? [])) {
    add('nothing in it that is read')
    return
  }
  if (shape === 'concept') checkElements(object, conceptShapes, path, resource, faults)
  else if (shape === 'coding') checkElements(object, codingShapes, path, resource, faults)
  else if (shape === 'identifier') checkElements(object, identifierShapes, path, resource, faults)
  else if (shape === 'quantity') {
    if (isNothing(object.value)) add('no value')
    checkElements(object, quantityShapes, path, resource, faults)
  } else if (!canBeFollowed(object, resource)) add('a reference that cannot be followed')
}

const holdsAny = (object: Json, names: readonly string[]): boolean => names.some((name) => !isNothing(object[name]))

const isNothing = (value: unknown): boolean =>
  value === undefined || value === null || (Array.isArray(value) && value.length === 0)

/** A reference that says where to is `Type/id` of this server, of something contained, or names an identifier. */
function canBeFollowed(reference: Json, resource: Json): boolean {
  const written = reference.reference
  if (written === undefined || written === null) return true
  const text = asText(written)
  if (text === undefined) return false
  if (keyOf(text) !== undefined || referencedIdentifier(reference) !== undefined) return true
  const id = text.slice(1)
  return text.charCodeAt(0) === 35 && asObjects(resource.contained).some((one) => one.id === id || one.id === text)
}
