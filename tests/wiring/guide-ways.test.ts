import { describe, expect, it } from 'vitest'
import type { Surveyed } from '../../src/linkage/survey.ts'
import { accepted } from '../../src/wiring/guide/accepted.ts'
import { examples } from '../../src/wiring/guide/examples/examples.ts'
import type { Way } from '../../src/wiring/guide/way.ts'
import { linkExample } from './guide-examples.ts'
import { furtherExamples } from './guide-further-examples.ts'
import { variantsOf } from './guide-variants.ts'

const ways: Readonly<Record<string, readonly Way[]>> = accepted
const isListed = (field: string, element: string, rung: string): boolean =>
  (ways[field] ?? []).some(({ elements, rungs }) => elements.includes(element) && rungs.some((one) => one === rung))

/** Ways that the trail of an examination names and the guide does not. */
const unlisted = ({ trail }: Surveyed): string[] => [
  ...new Set(
    trail.evidence
      .filter(({ field, element, rung }) => !isListed(field, element, rung))
      .map(({ field, element, rung }) => `${field}: ${element}, ${rung}`),
  ),
]

describe('the ways that the guide lists', () => {
  it.each(examples.map((example) => [example.id, example] as const))('hold all that %s went', (_, example) => {
    expect(unlisted(linkExample(example))).toEqual([])
  })
})

/** What configuration fills, and the scale, which follows from the scores. */
const withoutTrail = ['source', 'unit', 'preparationScale']

describe('the ways that the guide lists, all of them', () => {
  const gone = new Set<string>()
  const surprises = new Set<string>()
  for (const example of [...examples, ...furtherExamples])
    for (const resources of variantsOf(example)) {
      const surveyed = linkExample(example, resources)
      for (const { field, element } of surveyed.trail.evidence) gone.add(`${field}: ${element}`)
      for (const one of unlisted(surveyed)) surprises.add(one)
    }

  it('are all that any of them goes', () => {
    expect([...surprises]).toEqual([])
  })

  it('are gone by some example, linked and shaped in some way', () => {
    const listed = Object.entries(ways).flatMap(([field, ofField]) =>
      (field.includes('.') && !field.startsWith('polyps.')) || withoutTrail.includes(field)
        ? []
        : ofField.flatMap(({ elements, rungs }) =>
            rungs.length === 0 ? [] : elements.map((one) => `${field}: ${one}`),
          ),
    )
    expect(listed.filter((one) => !gone.has(one))).toEqual([])
  })
})
