import { history } from '../../record/history.ts'
import { asHistory, asObserved, observedIn, silence, wordIn } from './observed.ts'
import type { Way, WaysOf } from './way.ts'

const complete = silence(
  'Condition',
  'False where the source declares a complete feed of history, and nothing of the kind is there.',
)

interface Kind {
  /** Value sets of the codes that tell of it. */
  readonly valueSets: readonly string[]
  /** Code of ours of the yes/no observation. */
  readonly code: string
  /** A value set that a coded value of that observation may be from. */
  readonly byProcedure?: boolean
  readonly note?: string
}

function ways({ valueSets, code, byProcedure, note }: Kind): readonly Way[] {
  return [
    {
      elements: ['Condition.code'],
      rungs: asHistory,
      codes: [{ on: 'Condition.code', valueSets }],
      note: `Onset or recordedDate before the day of the examination; not refuted.${note ? ` ${note}` : ''}`,
    },
    ...(byProcedure
      ? [
          {
            elements: ['Procedure.code'],
            rungs: asHistory,
            codes: [{ on: 'Procedure.code', valueSets }],
            note: 'Status completed, performed before the day of the examination.',
          } satisfies Way,
        ]
      : []),
    {
      ...observedIn(['valueBoolean', 'valueCodeableConcept'], { ours: [code], words: ['yes', 'no', 'none'] }),
      note: 'Asked at the examination: yes or no. A code of the value set as the value means yes.',
    },
    complete,
  ]
}

export const historyAccepted: WaysOf<typeof history> = {
  inflammatoryBowelDisease: ways({ valueSets: ['inflammatory-bowel-disease'], code: 'inflammatory-bowel-disease' }),
  inflammatoryBowelDiseaseActivity: [
    {
      elements: ['Condition.severity'],
      rungs: asHistory,
      codes: [{ on: 'Condition.severity', ours: history.inflammatoryBowelDiseaseActivity.values }],
    },
    {
      elements: ['Condition.clinicalStatus'],
      rungs: asHistory,
      codes: [
        {
          on: 'Condition.clinicalStatus',
          fhir: [{ system: 'http://terminology.hl7.org/CodeSystem/condition-clinical', code: 'remission' }],
        },
      ],
      note: 'Remission means quiescent.',
    },
    wordIn(
      'inflammatory-activity',
      history.inflammatoryBowelDiseaseActivity.values,
      'Observed before the day of the examination (effective), and linked with it by partOf or encounter.',
    ),
  ],
  inflammatoryBowelDiseaseSeen: [
    {
      elements: ['Condition.recordedDate'],
      rungs: asHistory,
      codes: [{ on: 'Condition.code', valueSets: ['inflammatory-bowel-disease'] }],
      note: 'Recorded on the day of the examination, without an earlier onset.',
    },
    complete,
  ],
  hereditarySyndrome: ways({ valueSets: ['hereditary-syndrome'], code: 'hereditary-syndrome' }),
  earlierResection: ways({ valueSets: ['earlier-resection'], code: 'earlier-resection', byProcedure: true }),
  resectedPart: [
    {
      elements: [
        'Condition.code',
        'Procedure.code',
        'Observation.valueCodeableConcept',
        'Observation.component.valueCodeableConcept',
      ],
      rungs: [...asHistory, ...asObserved],
      codes: [{ on: 'the code of the earlier resection', conceptMaps: ['resected-part'] }],
    },
    {
      elements: ['Condition.bodySite', 'Procedure.bodySite', 'Observation.bodySite'],
      rungs: [...asHistory, ...asObserved],
      codes: [{ on: 'its bodySite', conceptMaps: ['resected-part'] }],
      note: 'Where the code does not name the part.',
    },
  ],
  strictureKnown: ways({
    valueSets: ['stricture'],
    code: 'stricture',
    note: 'A suspicion (verificationStatus unconfirmed, provisional or differential) is enough.',
  }),
  severeDiverticulosis: ways({ valueSets: ['severe-diverticulosis'], code: 'severe-diverticulosis' }),
  pelvicSurgeryOrRadiotherapy: ways({
    valueSets: ['pelvic-surgery-or-radiotherapy'],
    code: 'pelvic-surgery-or-radiotherapy',
    byProcedure: true,
  }),
  earlierColorectalCancer: ways({
    valueSets: ['colorectal-cancer', 'past-colorectal-cancer'],
    code: 'colorectal-cancer',
  }),
  antithrombotics: ways({
    valueSets: ['antithrombotic-use'],
    code: 'antithrombotic-use',
    note: 'One that had ended before the examination (abatement) does not count.',
  }),
}
