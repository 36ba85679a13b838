import { beforeAll, describe, expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { Survey } from '../../src/linkage/survey.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { units } from '../../src/local/demo/region.ts'
import type { TruthRow } from '../../src/local/demo/truth-row.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { definitions } from '../stories/ask.ts'
import { asOf, demoBase, demoServer, linkWindows } from './pull-demo.ts'
import { compared, inRecord, inTruth } from './truth-of-record.ts'

// The truth is a table that the generator decided before it wrote any resource; it never passed through linkage.
const demo = generateDemo()
const truth: ReadonlyMap<string, TruthRow> = new Map(demo.truth.map((row) => [row.procedure, row]))
const survey = new Survey()
let records: readonly Colonoscopy[] = []

beforeAll(() => {
  const source = demoSource(demoBase)
  const codes = new Codes(definitions.resources, source.conceptMaps)
  const window = { start: '2025-01-01', end: '2026-06-30' }
  records = linkWindow(demo.resources, { source, codes, window, asOf, survey }).colonoscopies.map(
    ({ record }) => record,
  )
})

const rowOf = ({ procedure }: Colonoscopy): TruthRow => {
  const row = truth.get(procedure)
  if (!row) throw new RangeError(`The truth has no ${procedure}`)
  return row
}

describe.each(compared)('%s', (field) => {
  it('is in every record as the truth has it', () => {
    const differing = records.flatMap((record) => {
      const [found, expected] = [inRecord(field, record), inTruth(field, rowOf(record))].map((value) =>
        JSON.stringify(value),
      )
      return found === expected ? [] : [`${record.procedure}: ${found}, truly ${expected}`]
    })
    expect(differing).toEqual([])
    expect(records).toHaveLength([...truth.values()].filter(({ kind }) => kind === 'examination').length)
  })

  it('is met in the demo', () => {
    expect(records.some((record) => record[field] !== undefined)).toBe(true)
  })
})

it('a month that is pulled from the server holds the same records', async () => {
  const month = { start: '2026-02-01', end: '2026-02-28' }
  const pulled = await linkWindows(demoServer(demo.resources), [month])
  const own = records.filter(
    ({ examinationDate = '' }) => examinationDate >= month.start && examinationDate <= month.end,
  )
  const byKey = (list: readonly Colonoscopy[]) =>
    [...list].sort((one, other) => (one.procedure < other.procedure ? -1 : 1))
  expect(own.length).toBeGreaterThan(250)
  expect(byKey(pulled)).toEqual(byKey(own))
})

describe('each unit records in its own way', () => {
  const share = (unit: string, field: keyof Colonoscopy): number => {
    const own = records.filter((record) => record.unit === unit)
    return own.filter((record) => record[field] !== undefined).length / own.length
  }

  it.each(['ileum', 'retroflexion', 'insufflation', 'instrument', 'attachmentOutcome', 'comfortScorer'] as const)(
    '%s: one nearly always, one in its own codes, one leaves much out',
    (field) => {
      expect(share('ellenby', field)).toBeGreaterThan(share('quernford', field))
      expect(share('ellenby', field)).toBeGreaterThan(share('tarnhollow', field) + 0.1)
    },
  )

  it('every drug is told by each of them, as all of them declare', () => {
    for (const { id } of units) expect(share(id, 'sedated')).toBeGreaterThan(0.99)
  })

  it('some facts come from one unit alone', () => {
    expect(share('tarnhollow', 'computerAidedDetection')).toBe(0)
    expect(share('quernford', 'attachmentReinserted')).toBe(0)
    expect(share('ellenby', 'preparationGrade')).toBe(0)
  })
})

describe('the wiring report has something to show', () => {
  it('contradictions of these kinds, and few of each', () => {
    const kinds = survey.examinations.flatMap(({ trail }) => trail.contradictions.map(({ kind }) => kind))
    const counts = (kind: string) => kinds.filter((one) => one === kind).length
    for (const kind of [
      'stopped for preparation that is scored good',
      'ileum or retroflexion said not to be done, but done',
      'insertion or withdrawal of zero minutes',
      'history stated both ways',
      'advice against a further colonoscopy, and an interval to it',
      'normal examination with polyps',
      'screening with a lesion known before',
      'death before the examination',
    ]) {
      expect(counts(kind), kind).toBeGreaterThan(0)
      expect(counts(kind), kind).toBeLessThan(60)
    }
  })

  it('values that nobody can read', () => {
    const unread = new Set(survey.examinations.flatMap(({ trail }) => trail.unreadable.map(({ field }) => field)))
    for (const field of [
      'insertionMinutes',
      'withdrawalMinutes',
      'retroflexion',
      'comfortScore',
      'polyps',
      'midazolamMilligrams',
      'advisedIntervalMonths',
      'pathology',
    ] as const)
      expect(unread, field).toContain(field)
  })

  it('codes and sentences that no map knows', () => {
    const missed = [...survey.unmatched.values()].map(({ code, words }) => code ?? words)
    for (const code of ['SC-U', 'POS', 'ASP-2', 'X17', 'DAYWARD', 'Follow-up as discussed', 'Anaemia, cause?'])
      expect(missed, code).toContain(code)
  })

  it('no reference that leads nowhere', () => {
    expect([...survey.deadEnds.keys()]).toEqual([])
  })
})
