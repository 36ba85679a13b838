import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  fixture,
  histologySets,
  labelledReasons,
  labelledTexts,
  type Miss,
  missesOf,
  reasonMissesOf,
  reasonSets,
  share,
} from './text-sets.ts'

const listed = fixture<Record<string, Miss[]>>('misses.json')
const readme = readFileSync('fixtures/text/README.md', 'utf8')

// A miss more is a fault; a miss fewer is a list and a figure that are no longer true.
describe('every miss and false alarm', () => {
  it.each(histologySets)('of the reader on %s is listed, and the share read right is the one published', (set) => {
    const texts = labelledTexts(set)
    const misses = missesOf(texts)
    expect(misses).toEqual(listed[set])
    expect(readme).toContain(`| ${set} | ${share(texts.length - misses.length, texts.length)} |`)
  })

  it.each(reasonSets)('of known lesions in %s is listed, and the share read right is the one published', (set) => {
    const reasons = labelledReasons(set)
    const misses = reasonMissesOf(reasons)
    expect(misses).toEqual(listed[set])
    expect(readme).toContain(`| ${set} | ${share(reasons.length - misses.length, reasons.length)} |`)
  })
})

describe('the labelled texts', () => {
  it('are all there, each with its own name', () => {
    const names = [...histologySets.flatMap(labelledTexts), ...reasonSets.slice(0, 3).flatMap(labelledReasons)].map(
      ({ id }) => id,
    )
    expect(new Set(names).size).toBe(names.length)
    expect(histologySets.map((set) => labelledTexts(set).length)).toEqual([114, 68, 52, 40, 41])
    expect(reasonSets.map((set) => labelledReasons(set).length)).toEqual([44, 20, 20, 41])
  })

  it('of the published notes are read from the file whole', () => {
    expect(labelledTexts('clinic-note-sentences').filter(({ text }) => text.length < 10 || text.endsWith('"'))).toEqual(
      [],
    )
    expect(labelledTexts('clinic-note-sentences').map(({ text }) => text)).toEqual(
      expect.arrayContaining([
        'Some polyps were removed.',
        'No polyphagia, polydipsia or polyuria.',
        '• Pituitary adenoma',
      ]),
    )
  })
})
