import type { Source } from '../../src/config.ts'
import { feedKinds } from '../../src/record/field.ts'
import { resourcesOf } from '../../src/wiring/guide/examples/base.ts'
import { examples } from '../../src/wiring/guide/examples/examples.ts'
import {
  amount,
  dysplasia,
  examination,
  pathology,
  snomed,
  tubularAdenoma,
  ulcerativeColitis,
  whole,
  word,
  yesNo,
} from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { sourceOf } from '../wiring/guide-examples.ts'
import { furtherExamples } from '../wiring/guide-further-examples.ts'
import { variantsOf } from '../wiring/guide-variants.ts'
import type { Json } from './spoils.ts'

/** One examination of which much is recorded, and the source it comes from. */
export interface CompleteExamination {
  readonly id: string
  readonly resources: readonly Json[]
  readonly source: Source
  /** The same as another one, told or fed in another way. */
  readonly isVariant: boolean
}

const operator = { resourceType: 'Practitioner', id: 'operator-1' }

const found: readonly Json[] = [
  operator,
  ...examination({
    id: 'found',
    withdrawalMinutes: 9,
    said: [
      yesNo('dye', true),
      word('insufflation', 'water'),
      whole('comfort-one-to-five', 2),
      amount('insertion-time', 6, 'min'),
      word('distal-attachment', 'before-insertion'),
    ],
    polyps: [
      { handling: 'removed', specimen: 'pot', millimetres: 6, site: 'caecum' },
      { handling: 'left', site: 'rectum', millimetres: 3 },
    ],
    biopsyPots: ['random'],
    history: [{ code: snomed(ulcerativeColitis), recorded: '2020-01-01' }],
  }),
  ...pathology('read', {
    issued: '2026-03-14T10:00:00Z',
    results: [
      { specimen: 'pot', code: tubularAdenoma },
      { specimen: 'random', code: dysplasia },
    ],
  }),
]

const stopped: readonly Json[] = [
  operator,
  ...examination({
    id: 'stopped',
    status: 'stopped',
    stopReason: 'inadequate-preparation',
    extent: 'sigmoid-colon',
    photographs: [],
    boston: { left: 1 },
  }),
]

const inStories = [
  { id: 'found', resources: found },
  { id: 'stopped', resources: stopped },
]

/**
 * The examples of the guide and those of every further way, as they stand and from a source that feeds everything; a few of their
 * variants, in components and by patient and day; and two examinations of the stories.
 */
export function completeExaminations(): CompleteExamination[] {
  const ofGuide = [...examples, ...furtherExamples]
  const asJson = (resources: readonly object[]) => resources as readonly Json[]
  return [
    ...inStories.flatMap(({ id, resources }) => [
      { id, resources, source: { ...northmoor, completeFeeds: [] }, isVariant: false },
      { id: `${id}, everything fed`, resources, source: northmoor, isVariant: true },
    ]),
    ...ofGuide.flatMap((example) => {
      const resources = asJson(resourcesOf(example))
      const source = sourceOf(example)
      const variants = [...variantsOf(example)]
      const [panel = [], byDay = []] = [variants[8], variants[32]]
      return [
        { id: example.id, resources, source, isVariant: false },
        {
          id: `${example.id}, everything fed`,
          resources,
          source: { ...source, completeFeeds: feedKinds },
          isVariant: true,
        },
        { id: `${example.id}, in a panel`, resources: asJson(panel), source, isVariant: true },
        { id: `${example.id}, by patient and day`, resources: asJson(byDay), source, isVariant: true },
      ]
    }),
  ]
}
