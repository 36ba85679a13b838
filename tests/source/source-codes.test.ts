import { readFileSync } from 'node:fs'
import type { CodeSystem, ConceptMap, FhirResource, ValueSet } from 'fhir/r4'
import { expect, it } from 'vitest'
import { factSystem } from '../../src/fhir/canonical.ts'
import { Codes } from '../../src/fhir/codes.ts'
import { topicOf } from '../../src/linkage/topics.ts'
import { pullNeeds } from '../../src/source/source-codes.ts'

const { resources } = JSON.parse(readFileSync('build/definitions.json', 'utf8')) as { resources: FhirResource[] }

/** Every concept that the published artefacts name. */
const concepts = [
  ...resources
    .filter((one): one is ValueSet => one.resourceType === 'ValueSet')
    .flatMap(({ compose }) =>
      (compose?.include ?? []).flatMap(({ system, concept }) => (concept ?? []).map(({ code }) => ({ system, code }))),
    ),
  ...resources
    .filter((one): one is CodeSystem => one.resourceType === 'CodeSystem' && one.url === factSystem)
    .flatMap(({ concept }) => (concept ?? []).map(({ code }) => ({ system: factSystem, code }))),
]

// What linkage has no topic for is not read from an observation; what it has one for must have been asked for.
it('observations are asked for by every code that linkage reads in one, and by no other', () => {
  const codes = new Codes(resources)
  const read = concepts.filter((coding) => topicOf(codes.of({ coding: [coding] })) !== 'other')
  expect(pullNeeds(codes).observationCodes).toEqual([...new Set(read.map(({ code }) => code))].sort())
})

it('a site’s own codes are asked for as well', () => {
  const map: ConceptMap = {
    resourceType: 'ConceptMap',
    status: 'active',
    group: [
      {
        source: 'https://hospital.example/codes',
        target: factSystem,
        element: [
          { code: 'RZ', target: [{ code: 'withdrawal-time', equivalence: 'equivalent' }] },
          { code: 'PO', target: [{ code: 'polyp', equivalence: 'equivalent' }] },
        ],
      },
    ],
  }
  const { observationCodes } = pullNeeds(new Codes(resources, [map]))
  expect(observationCodes).toContain('RZ')
  expect(observationCodes).toContain('PO')
})

it('a patient’s colonoscopies of any time are asked for as history, with the operations', () => {
  // SNOMED CT: colonoscopy, total colectomy; a sigmoidoscopy is neither.
  const { historyProcedureCodes } = pullNeeds(new Codes(resources))
  expect(historyProcedureCodes).toEqual(expect.arrayContaining(['73761001', '26390003']))
  expect(historyProcedureCodes).not.toContain('44441009')
})
