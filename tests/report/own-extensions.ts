import { readdirSync, readFileSync } from 'node:fs'
import type { ElementDefinition, StructureDefinition } from 'fhir/r4'
import { canonicalBase } from '../../src/fhir/canonical.ts'

type Instance = { url: string; extension?: Instance[] } & Record<string, unknown>

const published = new Map<string, StructureDefinition>()
for (const name of readdirSync('measures').filter((file) => file.startsWith('StructureDefinition-'))) {
  const definition = JSON.parse(readFileSync(`measures/${name}`, 'utf8')) as StructureDefinition
  published.set(definition.url, definition)
}

/** Checks every extension of ours in a resource against its published definition: place, parts, types. */
export function extensionFaults(value: unknown, path: string): string[] {
  if (Array.isArray(value)) return value.flatMap((one) => extensionFaults(one, path))
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, child]) => {
    if (key !== 'extension') return extensionFaults(child, `${path}.${key}`)
    const own = (child as Instance[]).filter(({ url }) => url.startsWith(canonicalBase))
    return own.flatMap((extension) => againstDefinition(extension, path))
  })
}

function againstDefinition(extension: Instance, path: string): string[] {
  const definition = published.get(extension.url)
  if (!definition) return [`${extension.url} is not published`]
  const faults = definition.context?.some(({ expression }) => expression === path)
    ? []
    : [`${extension.url} may not stand on ${path}`]
  const elements = definition.differential?.element ?? []
  const slices = elements.filter(({ sliceName }) => sliceName !== undefined)
  const parts = extension.extension ?? []
  for (const part of parts) {
    const value = elements.find(({ id }) => id === `Extension.extension:${part.url}.value[x]`)
    faults.push(...(value ? valueFaults(part, value) : [`${extension.url} has no part ${part.url}`]))
  }
  for (const { sliceName, min = 0 } of slices) {
    const count = parts.filter(({ url }) => url === sliceName).length
    if (count < min || count > 1) faults.push(`${extension.url} has ${count} of ${sliceName}`)
  }
  const value = elements.find(({ id }) => id === 'Extension.value[x]')
  return slices.length === 0 && value ? [...faults, ...valueFaults(extension, value)] : faults
}

function valueFaults(extension: Instance, { type }: ElementDefinition): string[] {
  const code = type?.[0]?.code ?? ''
  const expected = `value${code.charAt(0).toUpperCase()}${code.slice(1)}`
  return Object.keys(extension).sort().join() === [expected, 'url'].sort().join()
    ? []
    : [`${extension.url} holds ${Object.keys(extension).join()}, not ${expected}`]
}
