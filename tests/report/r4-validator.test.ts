import type { FhirResource, MeasureReport, OperationOutcome } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { faultsOf } from './r4-validator.ts'

const valid: MeasureReport = {
  resourceType: 'MeasureReport',
  status: 'complete',
  type: 'summary',
  measure: 'https://example.org/Measure/one|1.0.0',
  period: { start: '2026-01-01', end: '2026-06-30' },
  improvementNotation: {
    coding: [{ system: 'http://terminology.hl7.org/CodeSystem/measure-improvement-notation', code: 'increase' }],
  },
  group: [{ population: [{ count: 1 }], stratifier: [{ stratum: [{ value: { text: 'one' } }] }] }],
}

const broken = (change: object): FhirResource => ({ ...valid, ...change }) as FhirResource

describe('the R4 validator of the tests', () => {
  it('finds nothing wrong with a valid report', () => {
    expect(faultsOf(valid)).toEqual([])
  })

  // Value sets of R4 (4.0.1): measure-report-status, measure-report-type, measure-improvement-notation, narrative-status.
  it.each([
    ['a status that does not exist', { status: 'done' }, 'MeasureReport.status: done'],
    ['a type that does not exist', { type: 'sumary' }, 'MeasureReport.type: sumary'],
    [
      'a notation of another system',
      { improvementNotation: { coding: [{ code: 'increase' }] } },
      'improvementNotation',
    ],
    [
      'a narrative status that does not exist',
      { text: { status: 'written', div: '<div>x</div>' } },
      'text.status: written',
    ],
    ['an empty list', { identifier: [] }, 'MeasureReport.identifier is empty'],
    ['an empty object', { group: [{ measureScore: {} }] }, 'measureScore is empty'],
    ['a count that is not whole', { group: [{ population: [{ count: 1.5 }] }] }, 'integer'],
    ['an unknown element', { colour: 'green' }, 'colour'],
    [
      'a stratum without value and component',
      { group: [{ stratifier: [{ stratum: [{ population: [{ count: 1 }] }] }] }] },
      'mrp-2',
    ],
  ])('finds %s', (_, change, fault) => {
    expect(faultsOf(broken(change)).join('\n')).toContain(fault)
  })

  it('finds a required element that is missing', () => {
    const { status: _, ...rest } = valid
    expect(faultsOf(rest as FhirResource).join('\n')).toContain('MeasureReport.status')
  })

  it('finds a wrong issue code inside a contained outcome', () => {
    const outcome = { resourceType: 'OperationOutcome', id: 'o', issue: [{ severity: 'grave', code: 'processing' }] }
    expect(faultsOf(broken({ contained: [outcome as unknown as OperationOutcome] })).join('\n')).toContain('grave')
  })
})
