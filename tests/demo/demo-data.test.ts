import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { FhirResource } from 'fhir/r4'
import { describe, expect, it, onTestFinished } from 'vitest'
import { demoDigest, digestOf, loadDemo } from '../../src/local/demo/demo-data.ts'
import { generateDemo, toNdjson } from '../../src/local/demo/generate.ts'
import { faultsOf } from '../report/r4-validator.ts'

const demo = generateDemo()
const byKey = new Map(demo.resources.map((resource) => [`${resource.resourceType}/${resource.id}`, resource]))

/** Every reference within a resource. */
function referencesIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([name, child]) =>
    name === 'reference' && typeof child === 'string' ? [child] : referencesIn(child),
  )
}

describe('the demo data', () => {
  it('has the committed SHA-256, so that it is the same on every platform and with every change', () => {
    expect(digestOf(toNdjson(demo.resources))).toBe(demoDigest)
  })

  it('gives every resource an id of its own that FHIR allows', () => {
    expect(byKey.size).toBe(demo.resources.length)
    // R4, data type id.
    for (const { id } of demo.resources) expect(id).toMatch(/^[A-Za-z0-9\-.]{1,64}$/)
  })

  it('refers to nothing that is not there', () => {
    const broken = demo.resources.flatMap(referencesIn).filter((reference) => !byKey.has(reference))
    expect(broken).toEqual([])
  })

  it('is valid R4 by a validator that is not ours: every rare type, and one in a hundred of the others', () => {
    const seen = new Map<string, number>()
    const sample = demo.resources.filter(({ resourceType }) => {
      const count = seen.get(resourceType) ?? 0
      seen.set(resourceType, count + 1)
      return count < 40 || count % 100 === 0
    })
    const faults = sample.flatMap((resource) => faultsOf(resource).map((fault) => `${resource.id}: ${fault}`))
    expect(faults).toEqual([])
    expect(sample.length).toBeGreaterThan(1000)
  })

  it('names no patient', () => {
    const patients = demo.resources.filter(({ resourceType }) => resourceType === 'Patient')
    const allowed = new Set([
      'resourceType',
      'id',
      'meta',
      'gender',
      'birthDate',
      'deceasedDateTime',
      'deceasedBoolean',
    ])
    expect(patients.flatMap(Object.keys).filter((name) => !allowed.has(name))).toEqual([])
  })
})

describe('loadDemo', () => {
  function temporaryFolder(): string {
    const folder = mkdtempSync(join(tmpdir(), 'demo-'))
    onTestFinished(() => rmSync(folder, { recursive: true }))
    return folder
  }
  const same = (one: readonly FhirResource[]) => digestOf(toNdjson(one)) === demoDigest

  it('puts the data into the cache on the first call and reads it from there on the second', () => {
    const folder = temporaryFolder()
    expect(same(loadDemo(folder))).toBe(true)
    expect(readdirSync(folder)).toHaveLength(1)
    expect(same(loadDemo(folder))).toBe(true)
  })

  it('makes the data anew when the cache holds anything else', () => {
    const folder = temporaryFolder()
    writeFileSync(join(folder, `demo-${demoDigest.slice(0, 12)}.ndjson`), '{"resourceType":"Patient","id":"half')
    expect(same(loadDemo(folder))).toBe(true)
  })
})
