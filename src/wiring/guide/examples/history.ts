import type { Example } from './example.ts'
import { answer, at, coded, condition, observation, ours, quantity, snomed } from './resources.ts'

const inRemission = coded('http://terminology.hl7.org/CodeSystem/condition-clinical', 'remission')

export const history: readonly Example[] = [
  {
    id: 'colitis-known',
    title: 'Colitis in remission, known for years',
    resources: [condition('colitis', snomed('64766004'), { clinicalStatus: inRemission, onsetDateTime: '2019-04' })],
    gives: { inflammatoryBowelDisease: true, inflammatoryBowelDiseaseActivity: 'quiescent' },
  },
  {
    id: 'colitis-seen',
    title: 'Colitis first recorded on the day',
    resources: [condition('colitis', snomed('64766004'), { recordedDate: '2026-03-10' })],
    gives: { inflammatoryBowelDiseaseSeen: true },
  },
  {
    id: 'resection',
    title: 'A resection years before: the segment is gone',
    resources: [
      {
        resourceType: 'Procedure',
        id: 'example-resection',
        status: 'completed',
        code: snomed('359571009'),
        subject: at('Patient/example-patient'),
        performedDateTime: '2015-06-02',
      },
    ],
    gives: { earlierResection: true, resectedPart: 'right', rightSegmentPresent: false },
  },
  {
    id: 'known-conditions',
    title: 'What the problem list knew before',
    resources: [
      condition('syndrome', snomed('315058005'), { recordedDate: '2012-01-16' }),
      condition('cancer', snomed('363406005'), { recordedDate: '2012-02-01' }),
      condition('anticoagulant', coded('http://hl7.org/fhir/sid/icd-10-cm', 'Z79.01'), { recordedDate: '2025-11-03' }),
    ],
    gives: { hereditarySyndrome: true, earlierColorectalCancer: true, antithrombotics: true },
  },
  {
    id: 'asked',
    title: 'Questions asked at the examination, as components of one observation',
    resources: [
      observation(
        'questions',
        { text: 'Asked before the examination' },
        {
          component: [
            answer('stricture', true),
            answer('severe-diverticulosis', false),
            answer('pelvic-surgery-or-radiotherapy', false),
          ],
        },
      ),
    ],
    gives: { strictureKnown: true, severeDiverticulosis: false, pelvicSurgeryOrRadiotherapy: false },
  },
  {
    id: 'asked-of-before',
    title: 'What is asked of the family and of examinations before',
    resources: [
      observation(
        'questions',
        { text: 'Asked before the examination' },
        {
          component: [
            answer('family-history-of-colorectal-cancer', true),
            answer('serrated-polyposis', false),
            answer('earlier-adenoma', true),
            answer('last-examination-inadequate', false),
            { code: ours('last-colonoscopy'), valueQuantity: quantity(3, 'a') },
          ],
        },
      ),
    ],
    gives: {
      familyHistoryOfColorectalCancer: true,
      serratedPolyposis: false,
      earlierAdenoma: true,
      lastExaminationInadequate: false,
      monthsSinceLastColonoscopy: 36,
    },
  },
  {
    id: 'no-history',
    title: 'Nothing of the kind, in a complete feed of history',
    settings: { completeFeeds: ['history'] },
    gives: {
      inflammatoryBowelDisease: false,
      inflammatoryBowelDiseaseSeen: false,
      hereditarySyndrome: false,
      earlierResection: false,
      strictureKnown: false,
      severeDiverticulosis: false,
      pelvicSurgeryOrRadiotherapy: false,
      earlierColorectalCancer: false,
      antithrombotics: false,
      serratedPolyposis: false,
      familyHistoryOfColorectalCancer: false,
      earlierAdenoma: false,
      rightSegmentPresent: true,
      transverseSegmentPresent: true,
      leftSegmentPresent: true,
    },
  },
]
