import type { Example } from './example.ts'
import { answer, observation, ours, quantity, snomed, word } from './resources.ts'

const polypCode = snomed('68496003')
const size = (millimetres: number) => ({ code: ours('polyp-size'), valueQuantity: quantity(millimetres, 'mm') })

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
]
