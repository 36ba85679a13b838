import { describe, expect, it } from 'vitest'
import type { Surveyed } from '../../src/linkage/survey.ts'
import { accepted } from '../../src/wiring/guide/accepted.ts'
import { examples } from '../../src/wiring/guide/examples/examples.ts'
import type { Way } from '../../src/wiring/guide/way.ts'
import { linkExample } from './guide-examples.ts'

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
