import { describe, expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { definitions } from '../stories/ask.ts'

const source = demoSource('http://127.0.0.1:1/fhir')

/** Every coding within a resource, as `system|code`. */
function codingsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return []
  const { system, code } = value as { system?: unknown; code?: unknown }
  const own = typeof system === 'string' && typeof code === 'string' ? [`${system}|${code}`] : []
  return [...own, ...Object.values(value).flatMap(codingsIn)]
}

describe('demoSource', () => {
  it('has concept maps that are valid R4', () => {
    expect(source.conceptMaps.flatMap(faultsOf)).toEqual([])
  })

  it('maps every local code that the demo uses, but for those that it leaves unread on purpose', () => {
    const mapped = new Set(
      source.conceptMaps
        .flatMap(({ group }) => group ?? [])
        .flatMap((group) => group.element.map(({ code }) => `${group.source}|${code}`)),
    )
    const local = new Set(
      generateDemo()
        .resources.flatMap(codingsIn)
        .filter((coding) => coding.startsWith('https://codes.harrowmere.example/')),
    )
    expect([...local].filter((coding) => !mapped.has(coding)).sort()).toEqual([
      'https://codes.harrowmere.example/formulary|ASP-2',
      'https://codes.harrowmere.example/histology|X17',
      'https://codes.harrowmere.example/terms|POS',
      'https://codes.harrowmere.example/terms|SC-U',
      'https://codes.harrowmere.example/visits|DAYWARD',
    ])
  })

  it('maps to codes that mean something here', () => {
    expect(new Codes(definitions.resources, source.conceptMaps).unknownTargets).toEqual([])
  })

  it('matches units by places that the server holds', () => {
    const held = new Set(generateDemo().resources.map(({ resourceType, id }) => `${resourceType}/${id}`))
    const places = source.units.flatMap(({ match }) => Object.values(match).flat())
    expect(places).toHaveLength(3)
    expect(places.filter((place) => !held.has(place))).toEqual([])
  })
})
