import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { type Found, hyperplastic, sessileSerrated, times, tubular } from './found-and-advised.ts'

/** What a guideline gives: months from the first to the last, no surveillance, or nothing because its table does not apply. */
export type Cell = readonly [least: number, most: number] | 'none' | 'not applicable'

/**
 * Seventeen findings and what three guidelines give for them. Cells worked out from the published tables: Gupta, Gastroenterology
 * 2020;158:1131 (some rows from memory); Hassan, Endoscopy 2020;52:687; Rutter, Gut 2020;69:201.
 */
export const intervalCases: readonly {
  readonly name: string
  readonly found: readonly Found[]
  readonly more?: Partial<Colonoscopy>
  readonly us: Cell
  readonly eu: Cell
  readonly uk: Cell
}[] = [
  { name: '1: nothing', found: [], us: [120, 120], eu: 'none', uk: 'none' },
  { name: '2: one 4 mm tubular adenoma', found: [tubular(4)], us: [84, 120], eu: 'none', uk: 'none' },
  { name: '3: three 6 mm tubular adenomas', found: times(3, tubular(6)), us: [36, 60], eu: 'none', uk: 'none' },
  { name: '4: five 5 mm tubular adenomas', found: times(5, tubular(5)), us: [36, 36], eu: [36, 36], uk: [36, 36] },
  { name: '5: one 12 mm tubular adenoma', found: [tubular(12)], us: [36, 36], eu: [36, 36], uk: 'none' },
  { name: '6: one of 12 and one of 4 mm', found: [tubular(12), tubular(4)], us: [36, 36], eu: [36, 36], uk: [36, 36] },
  {
    name: '7: one 6 mm tubulovillous adenoma',
    found: [tubular(6, { villous: true })],
    us: [36, 36],
    eu: 'none',
    uk: 'none',
  },
  {
    name: '8: one 8 mm tubular adenoma of high grade',
    found: [tubular(8, { dysplasia: 'high-grade' })],
    us: [36, 36],
    eu: [36, 36],
    uk: 'none',
  },
  { name: '9: eleven 4 mm tubular adenomas', found: times(11, tubular(4)), us: [12, 12], eu: [36, 36], uk: [36, 36] },
  {
    name: '10: two 6 mm sessile serrated lesions',
    found: times(2, sessileSerrated(6)),
    us: [60, 120],
    eu: 'none',
    uk: 'none',
  },
  {
    name: '11: one 12 mm sessile serrated lesion',
    found: [sessileSerrated(12)],
    us: [36, 36],
    eu: [36, 36],
    uk: 'none',
  },
  {
    name: '12: four 3 mm hyperplastic polyps of the rectum',
    found: times(4, hyperplastic(3, { site: 'rectum' })),
    us: [120, 120],
    eu: 'none',
    uk: 'none',
  },
  {
    name: '13: one 12 mm hyperplastic polyp of the transverse colon',
    found: [hyperplastic(12)],
    us: [36, 60],
    eu: [36, 36],
    uk: 'none',
  },
  {
    name: '14: three 4 mm sessile serrated lesions and two 4 mm tubular adenomas',
    found: [...times(3, sessileSerrated(4)), ...times(2, tubular(4))],
    us: [36, 60],
    eu: 'none',
    uk: [36, 36],
  },
  {
    name: '15: one 25 mm flat adenoma, piecemeal',
    found: [tubular(25, { shape: 'flat', resection: 'piecemeal' })],
    us: [6, 6],
    eu: [3, 6],
    uk: [2, 6],
  },
  {
    // European table: three years where it is taken as a serrated polyp with dysplasia, which the text leaves open.
    name: '16: one 6 mm traditional serrated adenoma',
    found: [{ mm: 6, histology: 'traditional-serrated-adenoma', dysplasia: 'low-grade' }],
    us: [36, 36],
    eu: [36, 36],
    uk: 'none',
  },
  {
    name: '17: one 5 mm tubular adenoma, inadequate preparation',
    found: [tubular(5)],
    more: { segmentsAllAtLeast2: false },
    us: 'not applicable',
    eu: 'not applicable',
    uk: 'not applicable',
  },
]
