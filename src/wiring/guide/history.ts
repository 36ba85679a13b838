import { history } from '../../record/history.ts'
import { answerIn, asHistory, asObserved, observedIn, silence, wordIn } from './observed.ts'
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
  hereditarySyndrome: [
    ...ways({ valueSets: ['hereditary-syndrome'], code: 'hereditary-syndrome' }),
    {
      ...observedIn(['valueBoolean', 'valueCodeableConcept'], { ours: ['serrated-polyposis'], words: ['yes'] }),
      note: 'Serrated polyposis is such a syndrome: a yes tells of both.',
    },
  ],
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
  serratedPolyposis: ways({ valueSets: ['serrated-polyposis'], code: 'serrated-polyposis' }),
  familyHistoryOfColorectalCancer: ways({
    valueSets: ['family-history-of-colorectal-cancer'],
    code: 'family-history-of-colorectal-cancer',
    note: 'One that is recorded that day or later does not say since when it was known: not recorded.',
  }),
  earlierAdenoma: ways({
    valueSets: ['earlier-adenoma', 'past-adenoma'],
    code: 'earlier-adenoma',
    note: 'A code of an adenoma in the past that is recorded that day or later leaves it open.',
  }),
  monthsSinceLastColonoscopy: [
    {
      ...observedIn(['valueDateTime', 'valueQuantity', 'valueInteger', 'valueString'], { ours: ['last-colonoscopy'] }),
      note: 'Its date, to the day; or the time since, in mo, a, wk or d (UCUM). A bare number is months.',
    },
    {
      elements: ['Procedure.performedPeriod', 'Procedure.performedDateTime'],
      rungs: asHistory,
      codes: [{ on: 'Procedure.code', valueSets: ['colonoscopy'] }],
      note: 'The latest colonoscopy of the patient on an earlier day, status completed or stopped. Of a statement and a date on record the later examination counts.',
    },
  ],
  lastExaminationInadequate: [
    answerIn('last-examination-inadequate', 'Asked at the examination: yes or no.'),
    {
      elements: ['Procedure.status'],
      rungs: asHistory,
      codes: [{ on: 'Procedure.code', valueSets: ['colonoscopy'] }],
      note: 'True where the latest colonoscopy of the patient on an earlier day was stopped. A completed one says nothing: it may have been badly prepared.',
    },
  ],
}
