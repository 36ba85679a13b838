import type { ConceptMap, ConceptMapGroupElementTarget, FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { feedKinds } from '../../src/record/field.ts'
import { demoServer } from '../demo/pull-demo.ts'
import { faultsOf } from '../report/r4-validator.ts'
import { examination, hyperplastic, pathology, tubularAdenoma } from '../stories/examination.ts'
import { localised } from './local-codes.ts'
import { countOf, groupOf } from './read-report.ts'
import { service } from './service.ts'

const baseUrl = 'http://harrowdale.example/fhir'
const system = 'urn:oid:2.999.42.1'
const march = 'periodStart=2026-03&periodEnd=2026-03'
const detection = 'adenoma-detection-rate-us-2024'
const intubation = 'caecal-intubation-rate-uk-2016'

/** An examination in which one polyp was removed, and its histology. */
const withPolyp = (id: string, reason: string, code: string) => {
  const pot = `pot-${id}`
  const polyp = {
    site: 'ascending',
    millimetres: 8,
    handling: 'removed',
    retrieval: 'retrieved',
    specimen: pot,
  } as const
  const report = { issued: '2026-03-14T10:00:00Z', patient: `patient-${id}`, encounterOf: id }
  return [
    ...examination({ id, reasons: [reason], polyps: [polyp] }),
    ...pathology(`histology-${id}`, { ...report, results: [{ specimen: pot, code }] }),
  ]
}
/**
 * Five outpatients of 60 years. Detection (US 2024, positive stool tests apart): one of four. Intubation with a photograph
 * (UK 2016, all that were meant to be complete): four of five.
 */
const { resources, map } = localised(
  [
    ...withPolyp('adenoma', 'screening', tubularAdenoma),
    ...withPolyp('hyperplastic', 'surveillance', hyperplastic),
    ...examination({ id: 'nothing' }),
    ...examination({ id: 'sigmoid', status: 'stopped', stopReason: 'looping', extent: 'sigmoid', photographs: [] }),
    ...examination({ id: 'stool-test', reasons: ['positive-screening-test'] }),
  ] as unknown as FhirResource[],
  system,
)

function harrowdale(conceptMaps: readonly ConceptMap[]) {
  expect(conceptMaps.flatMap(faultsOf)).toEqual([])
  const source = { id: 'harrowdale', baseUrl, zone: 'Europe/London', completeFeeds: feedKinds, conceptMaps }
  const bindings = { LOCAL_START: 'true', AS_OF: '2026-08-15', SOURCES: JSON.stringify([source]) }
  return service(demoServer(resources, { baseUrl }), bindings)
}

/** The map with the target of one code of ours replaced. */
function retargeted(code: string, target: ConceptMapGroupElementTarget): { map: ConceptMap; local: string } {
  const changed = structuredClone(map)
  const element = changed.group
    ?.flatMap(({ element: elements }) => elements)
    .find((one) => one.target?.some((known) => known.code === code))
  if (element?.code === undefined) throw new Error(`the records do not use ${code}`)
  element.target = [target]
  return { map: changed, local: element.code }
}

const counts = async (conceptMaps: readonly ConceptMap[], measure: string) => {
  const group = groupOf(await harrowdale(conceptMaps).report(measure, march))
  return [countOf(group, 'numerator'), countOf(group, 'denominator-exclusion'), countOf(group, 'denominator')]
}

describe('a hospital that has only codes of its own', () => {
  it('uses no code that is published here', () => {
    expect(JSON.stringify(resources)).not.toMatch(/snomed|loinc|colonoscopy-facts/)
  })

  it.each([detection, intubation])('counts for nothing without a concept map: %s', async (measure) => {
    expect(await counts([], measure)).toEqual([0, 0, 0])
    const { measureScore } = groupOf(await harrowdale([]).report(measure, march))
    expect(measureScore?.value).toBeUndefined()
  })

  it('is counted right with one concept map in its configuration', async () => {
    // Denominator of R4 with the exclusion in it: five reached, one excluded.
    expect(await counts([map], detection)).toEqual([1, 1, 5])
    expect(groupOf(await harrowdale([map]).report(detection, march)).measureScore?.value).toBe(1 / 4)
    expect(await counts([map], intubation)).toEqual([4, 0, 5])
    expect(groupOf(await harrowdale([map]).report(intubation, march)).measureScore?.value).toBe(4 / 5)
  })

  it('has its people by the functions that its map names', async () => {
    const { group } = await harrowdale([map]).report(intubation, march)
    const people = group?.[0]?.stratifier?.find(({ id }) => id === 'practitioner')?.stratum
    expect(people?.map(({ population }) => population?.[0]?.count)).toEqual([5])
  })

  it('may write the system of its map as a bare OID', async () => {
    const bare = structuredClone(map)
    for (const group of bare.group ?? []) group.source = system.replace('urn:oid:', '')
    expect(await counts([bare], intubation)).toEqual([4, 0, 5])
  })
})

describe('a line of a site’s map', () => {
  it('that says unmatched is no translation: the code stays unknown, and nothing else changes', async () => {
    const { map: without } = retargeted('positive-screening-test', { equivalence: 'unmatched' })
    expect(await counts([without], detection)).toEqual([1, 0, 4])
    expect(await counts([without], intubation)).toEqual([4, 0, 5])
  })

  it('that leads to a code that nobody knows is refused, with map, code and target', async () => {
    const { map: wrong, local } = retargeted('surveillance', { code: 'surveilance', equivalence: 'equivalent' })
    const { status, code, diagnostics } = await harrowdale([wrong]).refusal(detection, march)
    expect({ status, code }).toEqual({ status: 500, code: 'exception' })
    expect(diagnostics).toContain(`concept map harrowdale-codes maps ${system}|${local} to `)
    expect(diagnostics).toContain('/CodeSystem/colonoscopy-facts|surveilance')
    expect(diagnostics).toContain('Source harrowdale')
  })
})
