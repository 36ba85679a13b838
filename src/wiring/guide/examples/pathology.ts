import type { DiagnosticReport, Observation, Specimen } from 'fhir/r4'
import type { Example } from './example.ts'
import { at, coded, observation, ours, quantity, snomed, word } from './resources.ts'

const subject = at('Patient/example-patient')

const specimen = (id: string): Specimen => ({
  resourceType: 'Specimen',
  id,
  subject,
  collection: { collectedDateTime: '2026-03-10T09:20:00Z', bodySite: snomed('9040008') },
})
const histologyReport = (rest: Partial<DiagnosticReport>): DiagnosticReport => ({
  resourceType: 'DiagnosticReport',
  id: 'example-histology',
  status: 'final',
  code: coded('http://loinc.org', '11526-1'),
  subject,
  issued: '2026-03-17T12:00:00Z',
  ...rest,
})
const result = (pot: string, rest: Partial<Observation>): Observation => ({
  resourceType: 'Observation',
  id: 'example-histology-result',
  status: 'final',
  code: coded('http://loinc.org', '34574-4'),
  subject,
  specimen: at(`Specimen/${pot}`),
  ...rest,
})
const removedPolyp = observation('polyp', snomed('68496003'), {
  specimen: at('Specimen/example-pot'),
  component: [{ code: ours('polyp-size'), valueQuantity: quantity(6, 'mm') }, word('polyp-handling', 'removed')],
})

export const pathology: readonly Example[] = [
  {
    id: 'histology',
    title: 'A tubular adenoma of the specimen that the polyp names',
    resources: [
      removedPolyp,
      specimen('example-pot'),
      histologyReport({ specimen: [at('Specimen/example-pot')], result: [at('Observation/example-histology-result')] }),
      result('example-pot', {
        valueCodeableConcept: snomed('1156654007'),
        component: [word('dysplasia-grade', 'low-grade')],
      }),
    ],
    gives: {
      pathology: 'final',
      histologySource: 'coded',
      adenomaFound: true,
      traditionalSerratedFound: false,
      sessileSerratedFound: false,
      cancerFound: false,
      adenomaCount: 1,
      adenomaCountLower: 1,
      adenomaCountUpper: 1,
      traditionalSerratedCount: 0,
      sessileSerratedCount: 0,
      hyperplasticCount: 0,
      cancerCount: 0,
      otherHistologyCount: 0,
      largestAdenomaMillimetres: 6,
      villousAdenomaFound: false,
      highGradeDysplasiaFound: false,
      polyps: [
        {
          sizeMillimetres: 6,
          sizeAtLeastMillimetres: 6,
          sizeAtMostMillimetres: 6,
          site: 'ascending',
          handling: 'removed',
          retrieval: 'retrieved',
          removalAttempted: true,
          histology: 'conventional-adenoma',
          dysplasia: 'low-grade',
          villous: false,
        },
      ],
    },
  },
  {
    id: 'histology-as-text',
    title: 'The same in words, of a source that has its text read',
    resources: [
      removedPolyp,
      specimen('example-pot'),
      histologyReport({
        specimen: [at('Specimen/example-pot')],
        conclusion: 'Ascending colon, polyp: tubular adenoma with low grade dysplasia.',
      }),
    ],
    settings: { readsText: true },
    gives: { histologySource: 'text', adenomaFound: true, adenomaCount: 1 },
  },
  {
    id: 'colitis-dysplasia',
    title: 'Dysplasia in biopsies of flat mucosa',
    resources: [
      specimen('example-biopsies'),
      histologyReport({
        specimen: [at('Specimen/example-biopsies')],
        result: [at('Observation/example-histology-result')],
      }),
      result('example-biopsies', { valueCodeableConcept: ours('low-grade') }),
    ],
    gives: { colitisDysplasiaFound: true, adenomaFound: false },
  },
  {
    id: 'nothing-sent',
    title: 'Nothing sent, in complete feeds of polyps and pathology',
    settings: { completeFeeds: ['polyps', 'pathology'] },
    gives: { pathology: 'not-sent', adenomaFound: false, adenomaCount: 0, adenomaCountUpper: 0 },
  },
]
