import { describe, expect, it } from 'vitest'
import { ask } from '../../stories/ask.ts'
import {
  amount,
  examination,
  hyperplastic,
  type PolypFacts,
  pathology,
  type Resource,
  tubularAdenoma,
  word,
} from '../../stories/examination.ts'

// Cells of the three tables: Gupta, Gastroenterology 2020;158:1131; Hassan, Endoscopy 2020;52:687; Rutter, Gut 2020;69:201.
const ids = ['us', 'eu', 'uk'].map((guideline) => `advised-interval-agreement-${guideline}-2020`)
const lowGrade = { component: [word('dysplasia-grade', 'low-grade')] }
const noDysplasia = { component: [word('dysplasia-grade', 'no-dysplasia')] }
const sessileSerrated = '443157008'
const tubulovillous = '61722000'

interface Told {
  readonly polyp: PolypFacts
  readonly code: string
  readonly more?: Resource
}

const polyp = (millimetres: number, more: Partial<PolypFacts> = {}): PolypFacts => ({
  site: 'transverse',
  millimetres,
  handling: 'removed',
  said: [word('polyp-shape', 'sessile'), word('polyp-resection', 'en-bloc')],
  ...more,
})
const tubular = (millimetres: number): Told => ({ polyp: polyp(millimetres), code: tubularAdenoma, more: lowGrade })

/** Advice as an observation signed after the pathology report of 18 March, unless another day is given. */
const advice = (months: number | 'none', issued: string) =>
  months === 'none'
    ? [word('advice', 'no-further-colonoscopy', { issued })]
    : [word('advice', 'repeat-colonoscopy', { issued }), amount('advised-interval', months, 'mo', { issued })]

function answers(
  told: readonly Told[],
  months: number | 'none',
  { issued = '2026-03-20T10:00:00Z', asOf = '2027-01-01', facts = {} } = {},
): string[] {
  const story = ask(
    [
      ...examination({
        id: 'a',
        polyps: told.map((one, index) => ({ ...one.polyp, specimen: `pot-${index}` })),
        said: advice(months, issued),
        ...facts,
      }),
      ...(told.length === 0
        ? []
        : pathology('p', {
            issued: '2026-03-18T10:00:00Z',
            results: told.map(({ code, more }, index) => ({ specimen: `pot-${index}`, code, ...(more && { more }) })),
          })),
    ],
    asOf,
  )
  return ids.map((id) => story.answer(id).code)
}

describe('advised intervals, from resources on', () => {
  it.each<[string, readonly Told[], number | 'none', string, string, string]>([
    ['nothing found, ten years', [], 120, 'met', 'met', 'not-met'],
    ['nothing found, none further', [], 'none', 'not-met', 'met', 'met'],
    ['one 4 mm tubular adenoma, seven years', [tubular(4)], 84, 'met', 'not-met', 'not-met'],
    ['one 12 mm tubular adenoma, three years', [tubular(12)], 36, 'met', 'met', 'not-met'],
    ['a 12 and a 4 mm tubular adenoma, three years', [tubular(12), tubular(4)], 36, 'met', 'met', 'met'],
    [
      'one 6 mm tubulovillous adenoma, none further',
      [{ polyp: polyp(6), code: tubulovillous, more: lowGrade }],
      'none',
      'not-met',
      'met',
      'met',
    ],
    [
      'two 6 mm sessile serrated lesions, five years',
      [6, 6].map((size) => ({ polyp: polyp(size), code: sessileSerrated, more: noDysplasia })),
      60,
      'met',
      'not-met',
      'not-met',
    ],
    [
      'one 12 mm hyperplastic polyp, five years',
      [{ polyp: polyp(12), code: hyperplastic }],
      60,
      'met',
      'not-met',
      'not-met',
    ],
    [
      'a 25 mm flat adenoma taken piecemeal, four months',
      [
        {
          polyp: polyp(25, { said: [word('polyp-shape', 'flat'), word('polyp-resection', 'piecemeal')] }),
          code: tubularAdenoma,
          more: lowGrade,
        },
      ],
      4,
      'not-met',
      'met',
      'met',
    ],
  ])('%s', (_, told, months, us, eu, uk) => {
    expect(answers(told, months)).toEqual([us, eu, uk])
  })

  it('advice older than the histology is not assessable, whatever it says', () => {
    const early = { issued: '2026-03-10T10:00:00Z' }
    expect(answers([tubular(12)], 36, early)).toEqual(['excluded', 'excluded', 'excluded'])
    expect(answers([tubular(12)], 60, early)).toEqual(['excluded', 'excluded', 'excluded'])
  })

  it('while the histology may still come it is pending', () => {
    expect(answers([tubular(12)], 36, { issued: '2026-03-12T10:00:00Z', asOf: '2026-03-15' })).toEqual([
      'pending',
      'pending',
      'pending',
    ])
  })

  it('a removal judged incomplete, or a biopsy alone, is not assessable', () => {
    const incomplete = { said: [word('polyp-clearance', 'incomplete')] }
    for (const more of [incomplete, { handling: 'biopsied' as const }])
      expect(answers([{ ...tubular(8), polyp: polyp(8, more) }], 84)).toEqual(['excluded', 'excluded', 'excluded'])
  })

  it('an adenoma without a size leaves open what only its size decides', () => {
    const { millimetres: _, ...unsized } = polyp(8)
    const told = [{ ...tubular(8), polyp: unsized }]
    // Three years from 10 mm on (in the UK, of a single sessile one in one piece, from 20 mm); seven to ten years or none below.
    expect(answers(told, 36)).toEqual(['not-recorded', 'not-recorded', 'not-recorded'])
    expect(answers(told, 'none')).toEqual(['not-met', 'not-recorded', 'not-recorded'])
    expect(answers(told, 48)).toEqual(['not-met', 'not-met', 'not-met'])
  })
})
