import type { DiagnosticReport, Observation, Specimen } from 'fhir/r4'
import type { Example } from './example.ts'
import { answer, at, coded, observation, ours, quantity, snomed, word } from './resources.ts'

const polypCode = snomed('68496003')
const size = (millimetres: number) => ({ code: ours('polyp-size'), valueQuantity: quantity(millimetres, 'mm') })
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
const removedPolyp = observation('polyp', polypCode, {
  specimen: at('Specimen/example-pot'),
  component: [size(6), word('polyp-handling', 'removed')],
})

export const findingsAndPathology: readonly Example[] = [
  {
    id: 'polyp',
    title: 'One polyp, with all that is said of it',
    resources: [
      observation('polyp', polypCode, {
        bodySite: snomed('9040008'),
        component: [
          size(6),
          word('polyp-shape', 'sessile'),
          word('polyp-handling', 'removed'),
          word('polyp-tool', 'cold-snare'),
          word('polyp-resection', 'en-bloc'),
          word('polyp-retrieval', 'retrieved'),
          answer('polyp-tattooed', false),
          word('predicted-histology', 'conventional-adenoma'),
        ],
      }),
    ],
    gives: {
      polypCount: 1,
      polyps: [
        {
          site: 'ascending',
          sizeMillimetres: 6,
          sizeAtLeastMillimetres: 6,
          sizeAtMostMillimetres: 6,
          shape: 'sessile',
          handling: 'removed',
          tool: 'cold-snare',
          resection: 'en-bloc',
          retrieval: 'retrieved',
          tattooed: false,
          predictedHistology: 'conventional-adenoma',
        },
      ],
      polypRemoved: true,
      tissueTakenOrTreated: true,
      tattooPlaced: false,
    },
  },
  {
    id: 'lesion-seen-again',
    title: 'A lesion that was known before',
    resources: [observation('lesion', polypCode, { component: [answer('known-lesion-seen-again', true)] })],
    gives: { knownLesionCount: 1, knownLesion: true },
  },
  {
    id: 'polyps-not-taken',
    title: 'One polyp left on purpose, one not found again; a bound is not a size',
    resources: [
      observation('polyp-1', polypCode, {
        component: [
          { code: ours('polyp-size'), valueQuantity: { ...quantity(5, 'mm'), comparator: '<' } },
          word('polyp-handling', 'left'),
        ],
      }),
      observation('polyp-2', polypCode, { component: [word('polyp-handling', 'not-found-again')] }),
    ],
    gives: {
      polypCount: 2,
      polyps: [{ sizeAtMostMillimetres: 5, handling: 'left' }, { handling: 'not-found-again' }],
      polypsLeftCount: 1,
      polypsNotFoundAgainCount: 1,
      polypsWithoutObtainableHistology: 2,
      polypRemoved: false,
    },
  },
  {
    id: 'no-polyp',
    title: 'No polyp: a final report in a complete feed of polyps',
    settings: { completeFeeds: ['polyps'] },
    gives: {
      polypCount: 0,
      polyps: [],
      knownLesionCount: 0,
      polypRemoved: false,
      tissueTakenOrTreated: false,
    },
  },
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
