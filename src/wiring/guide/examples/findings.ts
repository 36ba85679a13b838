import type { Specimen } from 'fhir/r4'
import type { Example } from './example.ts'
import { answer, at, observation, ours, part, quantity, snomed, word } from './resources.ts'

const polypCode = snomed('68496003')
const size = (millimetres: number) => ({ code: ours('polyp-size'), valueQuantity: quantity(millimetres, 'mm') })

/** A pot of biopsies of one site, with the number of pieces where one is told. */
const pot = (id: string, site: string, pieces?: number): Specimen => ({
  resourceType: 'Specimen',
  id: `example-pot-${id}`,
  subject: at('Patient/example-patient'),
  collection: {
    collectedDateTime: '2026-03-10T09:20:00Z',
    bodySite: snomed(site),
    ...(pieces !== undefined && { quantity: quantity(pieces, '1') }),
  },
})

export const findings: readonly Example[] = [
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
          answer('polyp-suspected-cancer', false),
          word('polyp-clearance', 'complete'),
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
          removalAttempted: true,
          suspectedCancer: false,
          clearance: 'complete',
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
    id: 'polyp-for-surgery',
    title: 'A polyp that looked malignant, was tattooed, and is left to surgery',
    resources: [
      observation('polyp', polypCode, {
        bodySite: snomed('60184004'),
        component: [
          size(35),
          word('polyp-handling', 'biopsied'),
          answer('polyp-suspected-cancer', true),
          answer('polyp-removal-attempted', false),
          answer('polyp-inaccessible', true),
          answer('polyp-tattooed', true),
          answer('polyp-sent-for-surgery', true),
        ],
      }),
    ],
    gives: {
      polyps: [
        {
          site: 'sigmoid',
          sizeMillimetres: 35,
          sizeAtLeastMillimetres: 35,
          sizeAtMostMillimetres: 35,
          handling: 'biopsied',
          tattooed: true,
          sentForSurgery: true,
          removalAttempted: false,
          inaccessible: true,
          suspectedCancer: true,
        },
      ],
    },
  },
  {
    id: 'biopsies-in-pots',
    title: 'Biopsies of the mucosa in pots by site: pieces counted in two, one without a number',
    settings: { completeFeeds: ['polyps'] },
    resources: [pot('right', '9040008', 2), pot('left', '60184004', 3), pot('rectum', '34402009')],
    gives: {
      biopsiesRight: 2,
      biopsiesRightAtLeast: 2,
      biopsiesLeft: 3,
      biopsiesLeftAtLeast: 3,
      biopsiesRectumAtLeast: 1,
    },
  },
  {
    id: 'biopsies-stated',
    title: 'Biopsies of the mucosa as numbers',
    resources: [
      observation('right', ours('biopsies-right'), { valueInteger: 2 }),
      observation('left', ours('biopsies-left'), { valueInteger: 2 }),
      observation('rectum', ours('biopsies-rectum'), { valueInteger: 0 }),
    ],
    gives: { biopsiesRight: 2, biopsiesLeft: 2, biopsiesRectum: 0, tissueTakenOrTreated: true },
  },
  {
    id: 'biopsy-of-the-rectum',
    title: 'A biopsy whose pot is not told: at least one from there, none from elsewhere',
    settings: { completeFeeds: ['polyps'] },
    resources: [{ ...part('biopsy', snomed('76164006')), bodySite: [snomed('34402009')] }],
    gives: { biopsiesRight: 0, biopsiesLeft: 0, biopsiesRectumAtLeast: 1 },
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
]
