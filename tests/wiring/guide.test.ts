import type { ValueSet } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { type Field, feedKinds } from '../../src/record/field.ts'
import { fieldGroups } from '../../src/record/fields.ts'
import { sourceList } from '../../src/source/source-schema.ts'
import { chapters } from '../../src/wiring/guide/chapters.ts'
import { baseSource } from '../../src/wiring/guide/examples/base.ts'
import { examples } from '../../src/wiring/guide/examples/examples.ts'
import { wiringGuide } from '../../src/wiring/guide/guide.ts'
import { definitions } from '../routes/app-under-test.ts'

const guide = wiringGuide(definitions.resources)
const entries = guide.groups.flatMap(({ fields }) => fields)
const everyCode = entries.flatMap(({ ways }) => ways.flatMap(({ codes }) => codes.flatMap((one) => one.codes)))
const cpt = 'http://www.ama-assn.org/go/cpt'

describe('the wiring guide', () => {
  it('tells of every fact of the record, and of those of its lists, in the order of the record', () => {
    expect(guide.groups.map(({ name, fields }) => [name, fields.map(({ field }) => field)])).toEqual(
      Object.entries(fieldGroups).map(([name, ofGroup]) => [
        name,
        Object.entries<Field>(ofGroup).flatMap(([field, { of = {} }]) => [
          field,
          ...Object.keys(of).map((inner) => `${field}.${inner}`),
        ]),
      ]),
    )
  })

  it('names at least one way for each, and an example that there is', () => {
    const ids = guide.examples.map(({ id }) => id)
    for (const { field, ways, example } of entries) {
      expect(ways.length, field).toBeGreaterThan(0)
      expect(ids, field).toContain(example)
    }
  })

  it('names only codes that are published, with the system, display and source that are', () => {
    const published = definitions.resources.filter((one): one is ValueSet => one.resourceType === 'ValueSet')
    const boston = published.find(({ id }) => id === 'boston-segment')?.compose?.include[0]
    const way = entries.find(({ field }) => field === 'preparationRight')?.ways[0]
    expect(way?.codes[0]?.list).toBe('ValueSet-boston-segment')
    expect(way?.codes[0]?.codes[0]).toEqual({
      system: boston?.system,
      code: boston?.concept?.[0]?.code,
      display: boston?.concept?.[0]?.display,
      source: boston?.concept?.[0]?.extension?.[0]?.valueCode,
    })
    for (const { code, system } of everyCode)
      expect(
        [code, system].every((text) => text !== ''),
        code,
      ).toBe(true)
  })

  it('refuses to name a list that is not published', () => {
    const without = definitions.resources.filter(({ id }) => id !== 'boston-segment')
    expect(() => wiringGuide(without)).toThrow('ValueSet-boston-segment')
  })

  it('shows no descriptor of CPT', () => {
    const ofCpt = [...everyCode, ...guide.lists.flatMap(({ codes }) => codes)].filter(({ system }) => system === cpt)
    expect(ofCpt.length).toBeGreaterThan(9)
    expect(ofCpt.filter(({ display }) => display !== undefined)).toEqual([])
  })

  it('holds the notices that the licences of SNOMED CT, LOINC, CPT, RxNorm and ATC ask for', () => {
    const terms = chapters.find(({ id }) => id === 'licences')?.terms?.map(({ term }) => term)
    expect(terms).toEqual(expect.arrayContaining(['SNOMED CT', 'LOINC', 'CPT', 'RxNorm', 'ATC']))
  })

  it('says of every kind of feed what complete means', () => {
    expect(chapters.find(({ id }) => id === 'absence')?.terms?.map(({ term }) => term)).toEqual([...feedKinds])
  })

  it.each(examples.map(({ id, settings }) => [id, settings] as const))(
    '%s: its settings are accepted',
    (_, settings) => {
      const read = sourceList.safeParse([{ ...baseSource, ...settings }])
      expect(read.error?.issues ?? []).toEqual([])
    },
  )

  it('is the same as JSON as it is as data', () => {
    expect(JSON.parse(JSON.stringify(guide))).toEqual(guide)
  })
})
