import type { MeasureReport } from 'fhir/r4'
import { beforeAll, describe, expect, it } from 'vitest'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { countTruth } from '../../src/local/demo/truth-counts.ts'
import { extensionFaults } from '../report/own-extensions.ts'
import { definitions } from '../stories/ask.ts'
import {
  apartOf,
  asOf,
  countOf,
  extensionsOf,
  groupOf,
  populationsOf,
  settledThrough,
  strataOf,
} from './read-report.ts'
import { rememberingDemo, service } from './service.ts'

const detection = 'adenoma-detection-rate-us-2024'
const halfYear = 'periodStart=2026-01&periodEnd=2026-06'
const { report } = service(rememberingDemo())
const reports = new Map<string, MeasureReport>()

// A few of every scoring are asked over HTTP; that every measure counts what is true is asked of the demo's rows.
const asked = definitions.measures.filter(({ id }) =>
  [
    detection,
    'adenoma-detection-rate-uk-2016',
    'adenomas-per-colonoscopy-descriptive',
    'caecal-intubation-rate-uk-2016',
    'perforation-rate-30-day-descriptive',
    'polyp-retrieval-rate-uk-2016',
    'withdrawal-time-us-2024',
  ].includes(id),
)

beforeAll(async () => {
  for (const { id } of asked) reports.set(id, await report(id, halfYear))
})

const reportOf = (id: string): MeasureReport => {
  const found = reports.get(id)
  if (found === undefined) throw new Error(`no report of ${id}`)
  return found
}

describe('the question of the README', () => {
  it('is answered by one summary of the measure and version over the half-year', () => {
    expect(reportOf(detection)).toMatchObject({
      status: 'complete',
      type: 'summary',
      measure: 'https://colonoscopy-measures.example/fhir/Measure/adenoma-detection-rate-us-2024|1.1.0',
      date: '2026-09-01T12:00:00.000Z',
      period: { start: '2026-01-01', end: '2026-06-30' },
    })
    expect(reportOf(detection).reporter).toBeUndefined()
  })

  it('says as of when it was read, in London’s summer time, and through which day it is settled', () => {
    expect(asOf(reportOf(detection))).toBe('2026-08-15T22:59:59.999Z')
    expect(settledThrough(reportOf(detection))).toMatch(/^2026-06-\d\d$/)
  })

  it('carries every extension of a report', () => {
    const group = groupOf(reportOf(detection))
    for (const name of ['as-of', 'settled-through', 'attribution', 'standard', 'left-out'])
      expect(extensionsOf(reportOf(detection), name).length, name).toBeGreaterThan(0)
    for (const name of ['apart', 'score-bounds']) expect(extensionsOf(group, name).length, name).toBeGreaterThan(0)
    expect(extensionsOf(group.measureScore, 'interval')).toHaveLength(1)
  })

  it('counts what the truth of the demo counts, up to the last settled day', () => {
    const period = { start: '2026-01-01', end: settledThrough(reportOf(detection)) ?? '' }
    const told = countTruth(generateDemo().truth, detection, period, 'unit')
    const sum = (part: 'met' | 'notMet' | 'excluded') =>
      [...told.values()].reduce((total, counts) => total + (counts[part] ?? 0), 0)
    const group = groupOf(reportOf(detection))
    expect(sum('met')).toBeGreaterThan(100)
    expect(countOf(group, 'numerator')).toBe(sum('met'))
    expect(countOf(group, 'denominator-exclusion')).toBe(sum('excluded'))
    expect(countOf(group, 'denominator')).toBe(sum('met') + sum('notMet') + sum('excluded'))
  })
})

describe.each(asked.map((measure) => [measure.id, measure] as const))('%s', (id, { scoring }) => {
  it('has a score that its populations recompute', () => {
    // FHIR R4 (4.0.1), Clinical Reasoning, Quality Reporting: what each scoring makes of its populations.
    const group = groupOf(reportOf(id))
    for (const part of [group, ...strataOf(reportOf(id), 'unit'), ...strataOf(reportOf(id), 'practitioner')]) {
      const score = part.measureScore?.value
      if (part.measureScore?.extension?.some(({ url }) => url.endsWith('/data-absent-reason'))) {
        expect(score).toBeUndefined()
        continue
      }
      const observed = populationsOf(part).filter(([code]) => code === 'measure-observation')
      if (scoring === 'proportion') {
        const exceptions = populationsOf(part).find(([code]) => code === 'denominator-exception')?.[1] ?? 0
        const base = countOf(part, 'denominator') - countOf(part, 'denominator-exclusion') - exceptions
        expect(score).toBe(countOf(part, 'numerator') / base)
      } else if (scoring === 'ratio') {
        expect(observed).toHaveLength(2)
        expect(score).toBeCloseTo((observed[0]?.[2] ?? Number.NaN) / (observed[1]?.[2] ?? Number.NaN), 12)
      } else {
        expect(observed).toHaveLength(1)
        expect(score).toBeCloseTo((observed[0]?.[2] ?? Number.NaN) / (observed[0]?.[1] ?? Number.NaN), 12)
      }
    }
    expect(group.measureScore?.value).toBeGreaterThan(0)
  })

  it.each([
    ['unit', 3],
    ['practitioner', 14],
  ])('has %s strata that add up to the whole, population by population', (stratifier, least) => {
    const strata = strataOf(reportOf(id), stratifier)
    expect(strata.length).toBeGreaterThanOrEqual(least)
    const whole = populationsOf(groupOf(reportOf(id)))
    whole.forEach(([code, count, sum], position) => {
      const parts = strata.map((stratum) => populationsOf(stratum)[position])
      expect(parts.every((part) => part?.[0] === code)).toBe(true)
      expect(
        parts.reduce((total, part) => total + (part?.[1] ?? Number.NaN), 0),
        code,
      ).toBe(count)
      if (sum === undefined) return
      expect(
        parts.reduce((total, part) => total + (part?.[2] ?? Number.NaN), 0),
        `${code}, sum`,
      ).toBeCloseTo(sum, 6)
    })
  })

  it.each(['unit', 'practitioner'])('has %s strata whose examinations apart add up to the whole too', (stratifier) => {
    const sums = new Map<string, number>()
    for (const stratum of strataOf(reportOf(id), stratifier))
      for (const [reason, count] of apartOf(stratum)) sums.set(reason, (sums.get(reason) ?? 0) + count)
    const whole = apartOf(groupOf(reportOf(id)))
    expect(whole.size).toBeGreaterThan(0)
    expect(Object.fromEntries(sums)).toEqual(Object.fromEntries(whole))
  })

  it('uses only extensions that are published, where they may stand', () => {
    expect(extensionFaults(reportOf(id), 'MeasureReport')).toEqual([])
  })
})
