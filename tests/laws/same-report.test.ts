import fc from 'fast-check'
import type { FhirResource, MeasureReport } from 'fhir/r4'
import { beforeAll, describe, expect, it } from 'vitest'
import { addDays } from '../../src/fhir/dates.ts'
import { createRandom } from '../../src/local/demo/random.ts'
import { demoServer } from '../demo/pull-demo.ts'
import { type MonthTold, type Period, period, reported, tellMonth, unitMonth } from './unit-month.ts'

// The expectation of a law is the same question asked plainly: one window, one large page, every resource once.
let resources: readonly FhirResource[]
let plain: MonthTold
beforeAll(async () => {
  resources = unitMonth()
  plain = await tellMonth(demoServer(resources))
})

const reportOf = (measure: string): MeasureReport => {
  const report = plain.reports[reported.findIndex(({ id }) => id === measure)]
  if (report === undefined) throw new Error(`no report of ${measure}`)
  return report
}

function expectSame({ answers, reports }: MonthTold): void {
  expect(reports).toEqual(plain.reports)
  expect(answers === plain.answers, 'the answers to every measure').toBe(true)
}

/** The parts of all extensions of a name, each as its two values. */
const countsIn = (extensions: MeasureReport['extension'], name: string): Map<string | undefined, number | undefined> =>
  new Map(
    (extensions ?? [])
      .filter(({ url }) => url.endsWith(`/${name}`))
      .map(({ extension: [reason, count] = [] }) => [reason?.valueCode ?? reason?.valueString, count?.valueInteger]),
  )

describe('the month of the laws', () => {
  it('holds fifteen perforations of invented pairs, each counted once', () => {
    const [group] = reportOf('perforation-rate-30-day-descriptive').group ?? []
    const met = group?.population?.find(({ code }) => code?.coding?.[0]?.code === 'numerator')?.count ?? 0
    expect(met + (countsIn(group?.extension, 'apart').get('later-met') ?? 0)).toBe(9 + 3 + 3)
  })

  it('holds pending histology, twelve reports that fit two examinations, and eleven second resources', () => {
    const { extension, group } = reportOf('adenoma-detection-rate-us-2024')
    expect(countsIn(group?.[0]?.extension, 'apart').get('pending')).toBeGreaterThan(9)
    const leftOut = countsIn(extension, 'left-out')
    expect(leftOut.get('link ambiguous')).toBe(9 + 3)
    expect(leftOut.get('second resource of one examination')).toBe(9 + 2)
  })
})

describe('the answers to all measures, and the reports made of them, are the same', () => {
  it('for any page size, order and repeats of the server', async () => {
    const server = fc.record({
      pageSize: fc.integer({ min: 2, max: 300 }),
      order: fc.constantFrom('id' as const, 'reversed' as const, 'shuffled' as const),
      seed: fc.integer({ min: 1, max: 1_000_000 }),
      duplicates: fc.integer({ min: 0, max: 5 }),
    })
    await fc.assert(
      fc.asyncProperty(server, async (options) => {
        expectSame(await tellMonth(demoServer(resources, options)))
      }),
      { seed: 20260601, numRuns: 6, examples: [[{ pageSize: 2, order: 'shuffled', seed: 5, duplicates: 1 }]] },
    )
  })

  it.each([
    ['single days', 1],
    ['weeks', 7],
    ['half-months', 15],
  ])('for a split into %s', async (_, days) => {
    const cuts = Array.from({ length: Math.ceil(30 / days) - 1 }, (_, position) => (position + 1) * days)
    expectSame(await tellMonth(demoServer(resources), windowsBetween(cuts)))
  })

  it('for any split into windows, read in any order', async () => {
    const cuts = fc.uniqueArray(fc.integer({ min: 1, max: 29 }), { minLength: 1, maxLength: 6 })
    await fc.assert(
      fc.asyncProperty(cuts, fc.integer(), async (days, seed) => {
        const windows = shuffled(windowsBetween(days), seed)
        expectSame(await tellMonth(demoServer(resources), windows))
      }),
      { seed: 20260602, numRuns: 12 },
    )
  })

  it('for resources in any order, any of them delivered twice', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer(), fc.integer({ min: 1, max: 7 }), async (seed, every) => {
        const arrange = (pulled: readonly unknown[]) =>
          shuffled([...pulled, ...structuredClone(pulled.filter((_, position) => position % every === 0))], seed)
        expectSame(await tellMonth(demoServer(resources), [period], arrange))
      }),
      { seed: 20260603, numRuns: 8 },
    )
  })

  it('for all of it at once', async () => {
    const server = demoServer(resources, { pageSize: 11, order: 'shuffled', seed: 77, duplicates: 2 })
    const windows = shuffled(windowsBetween([4, 13, 14, 22]), 78)
    const arrange = (pulled: readonly unknown[]) => shuffled([...pulled, ...pulled], 79)
    expectSame(await tellMonth(server, windows, arrange))
  })
})

/** Windows that cover the period, cut after the given days of the month. */
function windowsBetween(cuts: readonly number[]): Period[] {
  const ends = [...cuts].sort((one, other) => one - other).map((day) => addDays(period.start, day - 1))
  const starts = [period.start, ...ends.map((end) => addDays(end, 1))]
  return starts.map((start, position) => ({ start, end: ends[position] ?? period.end }))
}

function shuffled<Item>(list: readonly Item[], seed: number): Item[] {
  const random = createRandom(seed)
  const items = [...list]
  for (let last = items.length - 1; last > 0; last -= 1) {
    const other = random.below(last + 1)
    const [one, two] = [items[last] as Item, items[other] as Item]
    items[last] = two
    items[other] = one
  }
  return items
}
