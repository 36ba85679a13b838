import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readPathologyText } from '../../../src/linkage/text/read-pathology-text.ts'
import { longestRead } from '../../../src/linkage/text/tidy-text.ts'
import { fixture, histologySets, type LabelledText, labelledTexts, type Miss } from './text-sets.ts'

const misses = fixture<Record<string, Miss[]>>('misses.json')
const known = new Set(histologySets.flatMap((set) => (misses[set] ?? []).map(({ id }) => id)))
const all = histologySets.flatMap((set) => labelledTexts(set))

// Expected findings were written by hand by the rules of fixtures/text/README.md.
describe.each(histologySets)('the reader on %s', (set) => {
  it.each(labelledTexts(set).filter(({ id }) => !known.has(id)))('finds in $id what its label says: $text', (one) => {
    const { findings, unread } = readPathologyText(one.text)
    expect({ findings: sorted(findings), unread }).toEqual({ findings: sorted(one.findings), unread: one.unread })
  })
})

describe('every labelled text', () => {
  it('reads the same in capitals and with other line ends', () => {
    for (const { id, text } of all) {
      expect(readPathologyText(text.toUpperCase()), id).toEqual(readPathologyText(text))
      expect(readPathologyText(text.replaceAll('\n', '\r\n')), id).toEqual(readPathologyText(text))
    }
  })

  const single = all.filter(
    ({ shape, text }: LabelledText & { shape?: string }) => shape !== 'report' && !text.includes('\n'),
  )

  it.each(['Clinical history', 'Indication', 'Gross description', 'Family history', 'Endoscopic findings'])(
    'adds nothing to a diagnosis where it stands under "%s"',
    (heading) => {
      for (const { id, text } of single.filter(({ text }) => !/diagnosis|pathology|note/i.test(text)))
        expect(readPathologyText(`${heading}: ${text}\nFinal diagnosis: Hyperplastic polyp.`), id).toEqual({
          findings: [{ histology: 'hyperplastic' }],
          unread: false,
        })
    },
  )
})

describe('a diagnosis', () => {
  const diagnoses = [
    'tubular adenoma',
    'tubulovillous adenoma',
    'villous adenoma',
    'adenoma',
    'adenomatous polyp',
    'sessile serrated lesion',
    'traditional serrated adenoma',
    'hyperplastic polyp',
    'adenocarcinoma',
    'inflammatory polyp',
    'lymphocytic colitis',
  ]
  const reserved = [
    'No %.',
    'No evidence of %.',
    'Negative for %.',
    'Rule out %.',
    '%?',
    '%: absent.',
    '% is not identified.',
    '% cannot be excluded.',
    '% not excluded.',
    'Suspicious for %.',
    'Possible %.',
    'History of %.',
    'Previous %.',
    'Biopsy in 2019: %.',
    'Previous polypectomy: %.',
    'Mother had %.',
    'If % is found, repeat.',
    'Schedule resection of %.',
    'Stomach: %.',
    'Duodenum, biopsy: %.',
  ]

  it.each(diagnoses)('"%s" is found where it is stated, and nowhere else', (diagnosis) => {
    expect(readPathologyText(`Polyp: ${diagnosis}.`).findings).toHaveLength(1)
    for (const frame of reserved) expect(readPathologyText(frame.replace('%', diagnosis)).findings, frame).toEqual([])
  })

  it('of another organ is no adenoma of the bowel, whatever its name', () => {
    for (const text of [
      'Pituitary adenoma.',
      'Parathyroid adenoma.',
      'Pleomorphic adenoma of the parotid.',
      'Adenomyoma.',
    ])
      expect(readPathologyText(text), text).toEqual({ findings: [], unread: true })
  })
})

describe('any text at all', () => {
  it('is read without an error, and the same way twice', () => {
    const words = fc.constantFrom(
      'no',
      'tubular adenoma',
      'A.',
      'x 2',
      '8 mm',
      '\n',
      ':',
      ';',
      '(',
      'Diagnosis:',
      'or',
      '?',
      ',',
    )
    const texts = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 300 }),
      fc.array(words, { maxLength: 40 }).map((one) => one.join(' ')),
    )
    fc.assert(
      fc.property(texts, (text) => {
        const first = readPathologyText(text)
        expect(readPathologyText(text)).toEqual(first)
        for (const { count } of first.findings) if (count !== undefined) expect(count).toBeGreaterThan(0)
      }),
      { seed: 20_260_815, numRuns: 2000 },
    )
  })

  it.each([
    'a',
    ' ',
    '\n',
    '<',
    '(',
    'A. ',
    '1.2 x 0.8 cm ',
    'no adenoma ',
    'final final ',
    'previous ',
    'a, b, c, ',
    'history of adenoma; ',
  ])('of a million characters is read as far as the limit, and the reader says so (%j)', (piece) => {
    const text = piece.repeat(Math.ceil(1_000_000 / piece.length))
    expect(text.length).toBeGreaterThan(longestRead)
    expect(readPathologyText(text)).toEqual({ findings: expect.any(Array), unread: expect.any(Boolean), cut: true })
  })

  it('with no word in it is unread', () => {
    expect(readPathologyText('')).toEqual({ findings: [], unread: true })
  })
})

function sorted(findings: LabelledText['findings']): string[] {
  return findings.map((one) => JSON.stringify(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))).sort()
}
