import { readdirSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { measureOf } from '../measure-of.ts'
import { expected } from './expected.ts'

const ids = expected.map(({ id }) => id)
const choicesOf = (id: string) =>
  (measureOf(id).definition.resource.extension ?? [])
    .filter(({ url }) => url.endsWith('/measure-choice'))
    .map(({ extension = [] }) => ({
      question: extension.find(({ url }) => url === 'question')?.valueString,
      alternative: extension.find(({ url }) => url === 'alternative')?.valueCanonical?.replace(/^.*\/Measure\//, ''),
    }))

// Thresholds: US 2024 35 % pooled and 6 % serrated, EU 2017 25 %, UK 2016 15 to 20 %, UK programme 35 to 40 % (all read); those for
// men and women, after a positive test, of US 2015 and of polyps from memory.
describe('published standards', () => {
  it.each<[id: string, whole: [number?, number?], fromMemory: boolean, men?: number, women?: number]>([
    ['adenoma-detection-rate-us-2024', [0.35], false, 0.4, 0.3],
    ['adenoma-detection-rate-complete-and-prepared-us-2024', [0.35], false, 0.4, 0.3],
    ['adenoma-detection-rate-eu-2017', [0.25], false],
    ['adenoma-detection-rate-uk-2016', [0.15, 0.2], false],
    ['adenoma-detection-rate-uk-screening-programme', [0.35, 0.4], false],
    ['adenoma-or-cancer-detection-rate-us-government-2019', [], false],
    ['adenoma-detection-rate-after-positive-screening-test-us-2024', [0.5], true, 0.55, 0.45],
    ['adenoma-detection-rate-us-2015', [0.25], true, 0.3, 0.2],
    ['sessile-serrated-lesion-detection-rate-us-2024', [0.06], false],
    ['polyp-detection-rate-eu-2017', [0.4], true],
  ])('%s', (id, [minimum, aspirational], fromMemory, men, women) => {
    const { standard, stratumStandards } = measureOf(id).definition
    expect([standard?.minimum, standard?.aspirational, standard?.fromMemory]).toEqual([
      minimum,
      aspirational,
      fromMemory,
    ])
    const of = (stratum: string) => stratumStandards.find((one) => one.stratum === stratum)
    expect([of('sex=male')?.minimum, of('sex=female')?.minimum]).toEqual([men, women])
    expect(stratumStandards.every((one) => one.fromMemory)).toBe(true)
  })

  it.each(ids)('%s: a descriptive measure has no standard, every other one does', (id) => {
    expect(measureOf(id).definition.standard === undefined).toBe(id.endsWith('-descriptive'))
  })
})

describe('choices', () => {
  it.each(ids)('%s: every measure that is named as deciding otherwise is there', (id) => {
    const choices = choicesOf(id)
    expect(choices.length).toBeGreaterThan(0)
    const files = readdirSync('measures')
    for (const { alternative } of choices)
      if (alternative !== undefined) expect(files).toContain(`Measure-${alternative}.json`)
  })

  it('each sibling of the US rate is named by it, and names it back under the same question', () => {
    const named = choicesOf('adenoma-detection-rate-us-2024')
    const siblings = ids.filter((id) =>
      /^adenoma-detection-rate-(with|without|complete|outpatients).*-us-2024$/.test(id),
    )
    expect(siblings).toHaveLength(7)
    for (const id of siblings) {
      const question = named.find(({ alternative }) => alternative === id)?.question
      expect(question).toBeDefined()
      expect(choicesOf(id).filter(({ alternative }) => alternative === 'adenoma-detection-rate-us-2024')).toEqual([
        { question, alternative: 'adenoma-detection-rate-us-2024' },
      ])
    }
  })
})
