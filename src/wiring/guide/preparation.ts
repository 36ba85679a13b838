import { preparation } from '../../record/preparation.ts'
import { asObserved, observedIn } from './observed.ts'
import type { CodesOn, Way, WaysOf } from './way.ts'

const values = ['valueInteger', 'valueQuantity', 'valueString', 'valueCodeableConcept'] as const
const scoreElements = values.flatMap((value) => [`Observation.${value}`, `Observation.component.${value}`])
const segmentCodes = (...segments: string[]): readonly CodesOn[] => [
  { on: 'Observation.code or component.code', valueSets: ['boston-segment'] },
  {
    on: 'Observation.bodySite, or component.code of a panel of segments',
    conceptMaps: ['boston-segment-site'],
    ours: segments,
  },
  { on: 'valueCodeableConcept', ours: ['boston-0', 'boston-1', 'boston-2', 'boston-3'] },
]
const allSegments = ['right-segment', 'transverse-segment', 'left-segment']
const scored = (...segments: string[]): Way => ({
  elements: scoreElements,
  rungs: asObserved,
  codes: segmentCodes(...segments),
  note: 'A whole number from 0 to 3, without a unit.',
})
const segment = (name: string): readonly Way[] => [
  scored(name),
  {
    elements: ['Procedure.statusReason'],
    rungs: ['inferred from the stop reason'],
    codes: [{ on: 'Procedure.statusReason', conceptMaps: ['stop-reason'], ours: ['inadequate-preparation'] }],
    note: 'Stopped for stool: a segment beyond a scored one, which was not seen, scores 0.',
  },
]
const present = (name: string): readonly Way[] => [
  scored(name),
  {
    elements: ['Observation.dataAbsentReason'],
    rungs: asObserved,
    codes: [
      ...segmentCodes(name).slice(0, 2),
      {
        on: 'dataAbsentReason',
        fhir: [{ system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code: 'not-applicable' }],
      },
    ],
    note: 'The segment does not exist: its score does not apply. Of the component, where the score is one.',
  },
  {
    elements: ['earlier resection'],
    rungs: ['inferred from the history'],
    note: 'It is gone where an earlier resection took it (resectedPart), and there where history says that there was none.',
  },
]
const total: Way = {
  ...observedIn(values.slice(0, 3), { ours: ['boston-total'], valueSets: ['boston-total'] }),
  note: 'A whole number from 0 to 9, without a unit.',
}
const ofSegments: Way = {
  elements: ['Observation.value[x] of the segments'],
  rungs: ['inferred from the findings'],
  codes: segmentCodes(...allSegments),
}
const stated = (words: readonly string[], ...conceptMaps: string[]): Way =>
  observedIn(['valueCodeableConcept'], {
    ours: ['preparation'],
    valueSets: ['preparation-observation'],
    words,
    conceptMaps,
  })
const graded = stated(preparation.preparationGrade.values, 'preparation-grade')
const levelled = stated(preparation.preparationLevel.values, 'preparation-level')

export const preparationAccepted: WaysOf<typeof preparation> = {
  preparationScale: [scored(...allSegments), total, graded, levelled],
  preparationRight: segment('right-segment'),
  preparationTransverse: segment('transverse-segment'),
  preparationLeft: [scored('left-segment')],
  rightSegmentPresent: present('right-segment'),
  transverseSegmentPresent: present('transverse-segment'),
  leftSegmentPresent: present('left-segment'),
  preparationTotal: [ofSegments, total],
  segmentsAllAtLeast2: [
    ofSegments,
    {
      elements: ['Observation.value[x]'],
      rungs: ['inferred from the findings'],
      codes: [{ on: 'Observation.code', valueSets: ['boston-segment', 'boston-total'] }],
      note: 'One segment below 2 decides, and so does a total of less than 6 or more than 7.',
    },
  ],
  preparationGrade: [graded],
  preparationLevel: [levelled],
  stoppedForPreparation: [
    {
      elements: ['Procedure.statusReason'],
      rungs: ['inferred from the stop reason'],
      codes: [{ on: 'Procedure.statusReason', conceptMaps: ['stop-reason'], ours: ['inadequate-preparation'] }],
    },
    {
      elements: ['Procedure.status'],
      rungs: ['inferred from the status'],
      note: 'False for a completed examination.',
    },
  ],
}
