import type { Example } from './example.ts'
import { at, observation, ours, snomed } from './resources.ts'

export const whoAndWhy: readonly Example[] = [
  {
    id: 'unit',
    title: 'A unit that is told by the room',
    changes: { procedure: { location: at('Location/example-room-2') } },
    settings: {
      units: [
        { id: 'day-unit', name: 'Larkwater Day Unit', match: { procedureLocation: ['Location/example-room-2'] } },
      ],
    },
    gives: { unit: 'day-unit' },
  },
  {
    id: 'people-by-identifier',
    title: 'People by a staff number',
    settings: { practitionerSystem: 'https://larkwater.example/staff' },
    gives: { operator: 'https://larkwater.example/staff|E-17' },
  },
  {
    id: 'trainee',
    title: 'A trainee, with a supervisor who took over',
    changes: {
      procedure: {
        performer: [
          { function: ours('operator-in-training'), actor: at('Practitioner/example-practitioner') },
          { function: ours('supervisor-in-room'), actor: at('Practitioner/example-supervisor') },
        ],
      },
    },
    resources: [
      { resourceType: 'Practitioner', id: 'example-supervisor' },
      observation('takeover', ours('takeover'), { valueCodeableConcept: ours('hands-on') }),
    ],
    gives: {
      operatorRole: 'trainee',
      supervisor: 'larkwater/Practitioner/example-supervisor',
      supervisorInRoom: true,
      takeover: 'hands-on',
    },
  },
  {
    id: 'inpatient',
    title: 'An inpatient',
    changes: { encounter: { class: { system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode', code: 'IMP' } } },
    gives: { setting: 'inpatient' },
  },
  {
    id: 'reasons',
    title: 'Two reasons, of which one is the referral reason by precedence',
    changes: { procedure: { reasonCode: [ours('symptoms'), ours('surveillance')] } },
    gives: {
      reasonCount: 2,
      reasons: [{ reason: 'surveillance' }, { reason: 'symptoms' }],
      referralReason: 'surveillance',
      referredForKnownLesion: false,
      knownLesion: false,
    },
  },
  {
    id: 'diarrhoea',
    title: 'Chronic diarrhoea as the reason',
    changes: { procedure: { reasonCode: [ours('chronic-diarrhoea')] } },
    gives: { referralReason: 'symptoms', chronicDiarrhoea: true, afterIncompleteExamination: false },
  },
  {
    id: 'positive-test',
    title: 'A positive test of a screening programme, named as the reason',
    changes: { procedure: { reasonReference: [at('Observation/example-test')] } },
    resources: [
      {
        resourceType: 'Observation',
        id: 'example-test',
        status: 'final',
        code: ours('positive-screening-test'),
        subject: at('Patient/example-patient'),
        effectiveDateTime: '2026-02-17',
        valueBoolean: true,
      },
    ],
    gives: { referralReason: 'positive-screening-test', daysFromPositiveTest: 21, chronicDiarrhoea: false },
  },
  {
    id: 'repeat',
    title: 'Done because the colonoscopy before was stopped',
    changes: { procedure: { reasonReference: [at('Procedure/example-earlier')] } },
    resources: [
      {
        resourceType: 'Procedure',
        id: 'example-earlier',
        status: 'stopped',
        code: snomed('73761001'),
        subject: at('Patient/example-patient'),
        performedDateTime: '2025-12-10',
      },
    ],
    gives: { afterIncompleteExamination: true, monthsSinceLastColonoscopy: 3, lastExaminationInadequate: true },
  },
  {
    id: 'limited',
    title: 'An examination that was meant to be limited',
    resources: [observation('intent', ours('intent'), { valueCodeableConcept: ours('limited') })],
    gives: { intent: 'limited' },
  },
]
