import type { Extension, MeasureReport, MeasureReportGroup, MeasureReportGroupStratifierStratum } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { structure } from '../../src/fhir/canonical.ts'
import { measureReport } from '../../src/report/measure-report.ts'
import type { MeasureResult } from '../../src/tally/result.ts'
import { extensionFaults } from './own-extensions.ts'
import { faultsOf } from './r4-validator.ts'
import { adenomas, detection, notAvailable, people, perforation, results, unsettled, withdrawal } from './results.ts'

const date = '2026-08-16T08:00:00.000Z'
const reportOf = (result: MeasureResult): MeasureReport => measureReport(result, { date })
const groupOf = (result: MeasureResult): MeasureReportGroup => reportOf(result).group?.[0] ?? {}

type Counted = MeasureReportGroup | MeasureReportGroupStratifierStratum

const count = ({ population }: Counted, code: string): number | undefined =>
  population?.find((one) => one.code?.coding?.[0]?.code === code)?.count

const own = (extensions: Extension[] | undefined, name: string): Extension[] =>
  (extensions ?? []).filter(({ url }) => url === structure(name))

const part = (extension: Extension | undefined, url: string): Extension | undefined =>
  extension?.extension?.find((one) => one.url === url)

const stratum = (group: MeasureReportGroup, stratifier: string, index: number): MeasureReportGroupStratifierStratum =>
  group.stratifier?.find(({ id }) => id === stratifier)?.stratum?.[index] ?? {}

/** Populations that R4 (4.0.1) allows per scoring: Clinical Reasoning, Quality Reporting, population criteria table. */
const allowed = {
  proportion: ['initial-population', 'denominator', 'denominator-exclusion', 'denominator-exception', 'numerator'],
  ratio: ['initial-population', 'denominator', 'denominator-exclusion', 'numerator', 'measure-observation'],
  'continuous-variable': [
    'initial-population',
    'measure-population',
    'measure-population-exclusion',
    'measure-observation',
  ],
  cohort: ['initial-population'],
}

describe.each(Object.entries(results))('the report of %s', (_, result) => {
  const report = reportOf(result)

  it('is valid R4', () => {
    expect(faultsOf(report)).toEqual([])
  })

  it('uses our extensions only as they are published', () => {
    expect(extensionFaults(report, 'MeasureReport')).toEqual([])
  })

  it('counts only populations that its scoring allows, and all of them in every stratum', () => {
    const codes = (counted: Counted) => counted.population?.map((one) => one.code?.coding?.[0]?.code ?? '') ?? []
    const group = report.group?.[0] ?? {}
    expect(codes(group).filter((code) => !allowed[result.measure.scoring].includes(code))).toEqual([])
    for (const { stratum = [] } of group.stratifier ?? []) {
      for (const one of stratum) expect(codes(one)).toEqual(codes(group))
    }
  })

  it('gives every stratum its own value', () => {
    for (const { stratum = [] } of report.group?.[0]?.stratifier ?? []) {
      expect(new Set(stratum.map(({ value, component }) => JSON.stringify([value, component]))).size).toBe(
        stratum.length,
      )
    }
  })

  it('repeats the ids and codes of the measure', () => {
    const [measureGroup] = result.measure.resource.group ?? []
    const group = report.group?.[0] ?? {}
    expect([group.id, group.code]).toEqual([measureGroup?.id, measureGroup?.code])
    for (const { id, code } of measureGroup?.population ?? []) {
      expect(group.population).toContainEqual(expect.objectContaining({ id, code }))
    }
    const divided = ['unit', 'practitioner', ...result.divisions.map(({ stratifier }) => stratifier.id)]
    for (const { id, code } of (measureGroup?.stratifier ?? []).filter((one) => divided.includes(one.id ?? ''))) {
      expect(group.stratifier).toContainEqual(
        expect.objectContaining({ id, code: code === undefined ? expect.any(Array) : [code] }),
      )
    }
  })

  it('uses every element id once', () => {
    const ids = [...JSON.stringify(report.group).matchAll(/"id":"([^"]+)"/g)].map(([, id]) => id)
    expect(new Set(ids).size).toBe(ids.length)
  })
})

describe('a proportion', () => {
  it('can be recomputed from its populations by a client that knows no extension', () => {
    const group = groupOf(detection)
    const strata = group.stratifier?.flatMap(({ stratum = [] }) => stratum) ?? []
    const scored = [group, ...strata].filter(({ measureScore }) => measureScore?.value !== undefined)
    // The whole, four strata of units and people with a score, and two cells of each of six further stratifiers.
    expect(scored).toHaveLength(17)
    for (const one of scored) {
      const left = (count(one, 'denominator') ?? 0) - (count(one, 'denominator-exclusion') ?? 0)
      expect(one.measureScore?.value).toBe((count(one, 'numerator') ?? Number.NaN) / left)
    }
  })

  it('counts exceptions only where the measure has them, and takes them out of the score', () => {
    const exception = { expression: 'true', ast: { kind: 'literal', value: true }, fields: [] } as const
    const measure = { ...detection.measure, criteria: { ...detection.measure.criteria, exception } }
    const whole = { ...detection.whole, settled: { ...detection.whole.settled, excepted: 4, denominator: 287 } }
    const group = groupOf({ ...detection, measure, whole })
    expect(count(groupOf(detection), 'denominator-exception')).toBeUndefined()
    expect(count(group, 'denominator-exception')).toBe(4)
    const left = (count(group, 'denominator') ?? 0) - (count(group, 'denominator-exclusion') ?? 0) - 4
    expect(group.measureScore?.value).toBe((count(group, 'numerator') ?? 0) / left)
  })

  it('carries its score from 0 to 1 with the unit 1, and its interval', () => {
    const { measureScore } = groupOf(detection)
    expect(measureScore).toMatchObject({ system: 'http://unitsofmeasure.org', code: '1' })
    const [interval] = own(measureScore?.extension, 'interval')
    // Newcombe, Stat Med 1998;17:857-872, Table I, method 3: 81 of 263.
    expect(part(interval, 'lower')?.valueDecimal).toBe(0.2553)
    expect(part(interval, 'upper')?.valueDecimal).toBe(0.3662)
    expect(part(interval, 'level')?.valueDecimal).toBe(0.95)
  })
})

describe('a ratio', () => {
  it('can be recomputed from the two sums', () => {
    const group = groupOf(adenomas)
    const sum = (id: string): number =>
      own(group.population?.find((one) => one.id === id)?.extension, 'observation-sum')[0]?.valueDecimal ?? Number.NaN
    expect([sum('adenomas'), sum('colonoscopies')]).toEqual([30, 60])
    expect(group.measureScore?.value).toBe(sum('adenomas') / sum('colonoscopies'))
  })
})

describe('a continuous variable', () => {
  it('can be recomputed from its sum and its members, in its own unit', () => {
    const group = groupOf(withdrawal)
    const members = (count(group, 'measure-population') ?? 0) - (count(group, 'measure-population-exclusion') ?? 0)
    const observation = group.population?.find((one) => one.id === 'measure-observation')
    const [sum] = own(observation?.extension, 'observation-sum')
    expect(observation?.count).toBe(members)
    expect(group.measureScore?.value).toBe((sum?.valueDecimal ?? 0) / members)
    expect(group.measureScore?.code).toBe('min')
  })
})

describe('a score that cannot be given', () => {
  // Codes of http://terminology.hl7.org/CodeSystem/data-absent-reason.
  it.each([
    [unsettled, 'temp-unknown', 'nothing-settled'],
    [notAvailable, 'unsupported', 'not-available'],
  ])('has no value but its reason', (result, reason, because) => {
    const { measureScore } = groupOf(result)
    expect(measureScore?.value).toBeUndefined()
    expect(measureScore?.extension).toEqual([
      { url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: reason },
      { url: structure('absent-because'), valueCode: because },
    ])
  })

  it('still has bounds over the whole period', () => {
    const [bounds] = own(groupOf(unsettled).extension, 'score-bounds')
    expect(part(bounds, 'scope')?.valueCode).toBe('whole-period')
    expect([part(bounds, 'lower')?.valueDecimal, part(bounds, 'upper')?.valueDecimal]).toEqual([0.1, 0.45])
  })

  it('is refused when it is not a number, rather than written as null', () => {
    const whole = { ...detection.whole, score: Number.NaN }
    expect(() => reportOf({ ...detection, whole })).toThrow(RangeError)
  })
})

describe('what stands beside the score', () => {
  it('is every reason with a count, and no other', () => {
    const apart = own(groupOf(detection).extension, 'apart')
    const counts = Object.fromEntries(
      apart.map((one) => [part(one, 'reason')?.valueCode, part(one, 'count')?.valueInteger]),
    )
    expect(counts).toEqual(detection.whole.apart)
  })

  it('says whether the bounds are to be read instead', () => {
    const readInstead = (one: Counted) => part(own(one.extension, 'score-bounds')[0], 'readInstead')?.valueBoolean
    expect(readInstead(groupOf(detection))).toBe(false)
    expect(readInstead(stratum(groupOf(detection), 'practitioner', 1))).toBe(true)
  })

  it('names the instant, the last settled day, the attribution, the standard and what was left out', () => {
    const { extension } = reportOf(detection)
    expect(own(extension, 'as-of')[0]?.valueInstant).toBe('2026-08-15T23:59:59.999Z')
    expect(own(extension, 'settled-through')[0]?.valueDate).toBe('2026-06-16')
    expect(own(extension, 'attribution')[0]?.valueCode).toBe('operator')
    expect(part(own(extension, 'standard')[0], 'minimum')?.valueDecimal).toBe(0.35)
    expect(own(extension, 'left-out').map((one) => part(one, 'count')?.valueInteger)).toEqual([3, 1])
    expect(own(reportOf(unsettled).extension, 'settled-through')).toEqual([])
    expect(own(reportOf(perforation).extension, 'standard')).toEqual([])
  })

  it('refuses an as-of that is no instant', () => {
    expect(() => reportOf({ ...detection, asOf: '2026-08-15' })).toThrow('as-of requires an instant')
  })
})

describe('who reports', () => {
  it('is nobody when units are pooled', () => {
    expect(reportOf(detection).reporter).toBeUndefined()
  })

  it('is the organisation of a unit', () => {
    expect(reportOf(notAvailable).reporter).toEqual({
      type: 'Organization',
      identifier: { value: 'coast' },
      display: 'Coast & Hills',
    })
  })

  it('is the practitioner by identifier, or as text when the key has no system', () => {
    expect(reportOf(unsettled).reporter).toEqual({
      type: 'Practitioner',
      identifier: { system: people, value: 'ab-1' },
    })
    expect(reportOf({ ...unsettled, scope: { practitioner: 'north/7' } }).reporter?.display).toBe('north/7')
  })

  it('is whoever the caller knows', () => {
    const reporter = { reference: 'Organization/coast' }
    expect(measureReport(detection, { date, reporter }).reporter).toEqual(reporter)
  })
})

describe('strata', () => {
  it('name units by id and name, practitioners by system and value', () => {
    const group = groupOf(detection)
    expect(stratum(group, 'unit', 0).value?.coding?.[0]?.code).toBe('coast')
    expect(stratum(group, 'practitioner', 0).value?.coding?.[0]).toEqual({ system: people, code: 'ab-1' })
    expect(stratum(group, 'practitioner', 1).value).toEqual({ text: 'north/Practitioner/7' })
  })

  it('keep examinations without unit or practitioner as strata of their own', () => {
    const group = groupOf(detection)
    expect(stratum(group, 'unit', 1).value?.coding?.[0]?.code).toBe('unit-unassigned')
    expect(stratum(group, 'practitioner', 2).value?.coding?.[0]?.code).toBe('unattributed')
    expect(stratum(group, 'practitioner', 2).measureScore?.value).toBe(0)
  })
})

describe('messages', () => {
  it('are absent when nothing is lacking', () => {
    expect(reportOf(detection).contained).toBeUndefined()
  })

  it('are a contained outcome with a warning for each thing that is lacking', () => {
    const report = reportOf(notAvailable)
    expect(report.contained?.[0]).toMatchObject({
      resourceType: 'OperationOutcome',
      issue: [
        { severity: 'warning', code: 'incomplete', diagnostics: notAvailable.incomplete[0] },
        { severity: 'warning', code: 'not-supported' },
      ],
    })
    expect(report.extension?.[0]).toEqual({
      url: 'http://hl7.org/fhir/StructureDefinition/cqf-messages',
      valueReference: { reference: '#messages' },
    })
  })
})
