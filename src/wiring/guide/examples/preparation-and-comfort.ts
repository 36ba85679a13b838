import type { Example } from './example.ts'
import { at, coded, given, observation, ours, quantity, snomed, word } from './resources.ts'

const atc = (code: string) => coded('http://www.whocc.no/atc', code)

export const preparationAndComfort: readonly Example[] = [
  {
    id: 'boston',
    title: 'Boston scores: one observation with the total and its segments',
    resources: [
      observation('boston', snomed('722818007'), {
        valueInteger: 8,
        component: [
          { code: ours('right-segment'), valueInteger: 3 },
          { code: ours('transverse-segment'), valueInteger: 3 },
          { code: ours('left-segment'), valueInteger: 2 },
        ],
      }),
    ],
    gives: {
      preparationScale: 'boston',
      preparationRight: 3,
      preparationTransverse: 3,
      preparationLeft: 2,
      rightSegmentPresent: true,
      transverseSegmentPresent: true,
      leftSegmentPresent: true,
      preparationTotal: 8,
      segmentsAllAtLeast2: true,
    },
  },
  {
    id: 'graded',
    title: 'Preparation as one of five grades',
    resources: [observation('preparation', ours('preparation'), { valueCodeableConcept: ours('good') })],
    gives: { preparationGrade: 'good', preparationScale: 'grade' },
  },
  {
    id: 'level',
    title: 'Preparation in a word',
    resources: [observation('preparation', snomed('225106003'), { valueCodeableConcept: ours('adequate') })],
    gives: { preparationLevel: 'adequate', preparationScale: 'stated-level' },
  },
  {
    id: 'stopped-for-stool',
    title: 'Stopped because of stool',
    changes: { procedure: { status: 'stopped', statusReason: ours('inadequate-preparation') } },
    gives: { stoppedForPreparation: true, stopReason: 'inadequate-preparation', completion: 'stopped' },
  },
  {
    id: 'comfort',
    title: 'Comfort from 0 to 4, scored by a nurse, with the map that the source declares',
    resources: [
      observation('comfort', ours('comfort-zero-to-four'), {
        valueInteger: 2,
        component: [word('comfort-scorer', 'nurse')],
      }),
    ],
    settings: { comfortMap: { '0': 1, '1': 2, '2': 3, '3': 4, '4': 5 } },
    gives: { comfortScale: 'zero-to-four', comfortScore: 2, comfortScorer: 'nurse', comfortOneToFive: 3 },
  },
  {
    id: 'experience',
    title: 'What the patient said of the examination',
    resources: [observation('experience', ours('patient-experience'), { valueCodeableConcept: ours('acceptable') })],
    gives: { patientExperience: 'acceptable' },
  },
  {
    id: 'sedation',
    title: 'Sedation with two drugs',
    resources: [
      given('midazolam', atc('N05CD08'), quantity(2, 'mg')),
      given('fentanyl', ours('fentanyl'), quantity(0.05, 'mg')),
    ],
    gives: { sedated: true, midazolamMilligrams: 2, fentanylMicrograms: 50 },
  },
  {
    id: 'other-drugs',
    title: 'Other sedatives',
    resources: [
      given('pethidine', ours('pethidine'), quantity(25, 'mg')),
      given('propofol', ours('propofol'), quantity(40, 'mg')),
    ],
    gives: { sedated: true, pethidineMilligrams: 25, propofolMilligrams: 40 },
  },
  {
    id: 'no-sedatives',
    title: 'Drugs that are no sedatives',
    resources: [
      given('nitrous-oxide', ours('nitrous-oxide')),
      given('antispasmodic', atc('A03BB01'), quantity(20, 'mg')),
      given('reversal', ours('flumazenil'), quantity(0.2, 'mg')),
    ],
    gives: { nitrousOxide: true, antispasmodic: true, reversalAgent: true },
  },
  {
    id: 'nothing-given',
    title: 'Nothing given, in a complete feed of medication',
    settings: { completeFeeds: ['medication'] },
    gives: {
      sedated: false,
      midazolamMilligrams: 0,
      fentanylMicrograms: 0,
      pethidineMilligrams: 0,
      propofolMilligrams: 0,
      nitrousOxide: false,
      antispasmodic: false,
      reversalAgent: false,
    },
  },
  {
    id: 'anaesthetist',
    title: 'An anaesthetist led the sedation',
    changes: {
      procedure: {
        performer: [
          { function: ours('operator'), actor: at('Practitioner/example-practitioner') },
          { function: ours('anaesthetist'), actor: at('Practitioner/example-anaesthetist') },
        ],
      },
    },
    resources: [{ resourceType: 'Practitioner', id: 'example-anaesthetist' }],
    gives: { anaesthetistLed: true, sedated: true },
  },
]
