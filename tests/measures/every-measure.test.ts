import { describe, expect, it } from 'vitest'
import { structure } from '../../src/fhir/canonical.ts'
import { dimensions } from '../../src/measures/dimensions.ts'
import type { MeasureDefinition } from '../../src/measures/measure.ts'
import { definitions } from '../stories/ask.ts'

const { measures } = definitions
const choicesOf = ({ resource }: MeasureDefinition) =>
  (resource.extension ?? []).filter(({ url }) => url === structure('measure-choice'))

describe.each(measures.map((measure) => [measure.id, measure] as const))('%s', (id, measure) => {
  const { resource, standard, stratumStandards, attribution, stratifiers } = measure

  it('names its standard in its id and cites it, or is descriptive and has none', () => {
    const isDescriptive = id.endsWith('-descriptive')
    expect(id).toMatch(
      /-(us|eu|uk|aga|weo|review|us-task-force|us-government)-\d{4}$|-uk-screening-programme$|-descriptive$/,
    )
    if (isDescriptive) expect([standard, stratumStandards]).toEqual([undefined, []])
    else
      expect(resource.relatedArtifact?.some(({ type, citation }) => type === 'citation' && citation !== '')).toBe(true)
  })

  it('says what it asks, why, under which topic, and that it is no basis for decisions about a patient', () => {
    expect(resource.description).toMatch(/\w{3}/)
    expect(resource.rationale).toMatch(/\w{3}/)
    expect(resource.topic?.[0]?.text).toMatch(/\w{3}/)
    expect(resource.disclaimer).toContain('not for decisions about a patient')
  })

  it('is divided by everything that reports are compared by, and by persons unless it counts for the unit only', () => {
    const single = stratifiers.filter((one) => one.dimensions.length === 1).flatMap((one) => one.dimensions)
    const all = Object.keys(dimensions).filter((one) => attribution !== 'unit-only' || one !== 'practitioner')
    expect(single.sort()).toEqual(all.sort())
    expect(stratifiers.map((one) => one.dimensions)).toContainEqual(['referral-reason', 'sex', 'age-band'])
  })

  it('gives every choice its source, and leads to a sibling that exists', () => {
    for (const { extension = [] } of choicesOf(measure)) {
      const part = (name: string) => extension.find(({ url }) => url === name)
      expect(part('source')?.valueString).toMatch(/\w{3}/)
      const alternative = part('alternative')?.valueCanonical
      if (alternative !== undefined) expect(measures.map(({ url }) => url)).toContain(alternative)
    }
  })
})

describe('the set', () => {
  it('never makes a figure of a person of deaths, of later cancers, or of what is for technique audits only', () => {
    const unitOnly = measures.filter(({ attribution }) => attribution === 'unit-only').map(({ id }) => id)
    const mustBe = measures
      .map(({ id }) => id)
      .filter((id) => /^(death-|post-colonoscopy-cancer|diminutive-adenoma|cancer-detection)/.test(id))
    expect(mustBe.length).toBeGreaterThanOrEqual(6)
    expect(unitOnly).toEqual(expect.arrayContaining(mustBe))
  })

  it('waits for the window of everything that may follow an examination', () => {
    const after = ['events', 'visits', 'deaths', 'cancers']
    const waiting = measures.filter(({ needs }) => needs.some((kind) => after.includes(kind)))
    expect(waiting.length).toBeGreaterThan(30)
    expect(waiting.filter(({ eventWindowDays }) => eventWindowDays === undefined)).toEqual([])
  })
})
