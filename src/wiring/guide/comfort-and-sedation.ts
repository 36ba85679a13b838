import { comfortAndSedation } from '../../record/comfort-and-sedation.ts'
import { answerIn, asGiven, asObserved, silence, wordIn } from './observed.ts'
import type { CodesOn, Way, WaysOf } from './way.ts'
import { anaesthetist } from './who.ts'

const scales: CodesOn = {
  on: 'Observation.code or component.code',
  ours: ['comfort-one-to-five', 'comfort-zero-to-four'],
}
const comfort = (elements: readonly string[], note?: string): Way => ({
  elements,
  rungs: asObserved,
  codes: [scales],
  ...(note && { note }),
})
const values = ['valueInteger', 'valueQuantity', 'valueString']

/** Linked by partOf; else by the encounter, or by the patient's only examination of that day. */
const drugCodes = (...valueSets: string[]): CodesOn => ({
  on: 'medicationCodeableConcept, or Medication.code of medicationReference',
  valueSets,
})
const administered = (...valueSets: string[]): Way => ({
  elements: ['MedicationAdministration.medicationCodeableConcept', 'MedicationAdministration.medicationReference'],
  rungs: asGiven,
  codes: [drugCodes(...valueSets)],
  note: 'Status completed or stopped. By encounter or patient only on the very day of the examination. A dose of 0 was not given.',
})
const noDrug = (what: string): Way =>
  silence('MedicationAdministration', `${what} where the source declares a complete feed of medication.`)
const dose = (drug: string): readonly Way[] => [
  {
    elements: ['MedicationAdministration.dosage.dose'],
    rungs: asGiven,
    codes: [drugCodes(drug)],
    note: 'A quantity of mass: ug, mg or g (UCUM). Doses add up; a volume or a rate alone leaves the sum not recorded.',
  },
  noDrug('0'),
]

export const comfortAndSedationAccepted: WaysOf<typeof comfortAndSedation> = {
  comfortScale: [comfort(['Observation.code', 'Observation.component.code'])],
  comfortScore: [
    comfort(
      values.flatMap((value) => [`Observation.${value}`, `Observation.component.${value}`]),
      'A whole number within the scale, without a unit; higher is worse.',
    ),
  ],
  comfortScorer: [
    wordIn(
      'comfort-scorer',
      comfortAndSedation.comfortScorer.values,
      'Component beside the score; an observation of its own speaks for the only score whose scorer is not told.',
    ),
    comfort(['Observation.performer'], 'The patient, or the same person as the operator.'),
  ],
  comfortOneToFive: [
    comfort(
      ['Observation.value[x]', 'Observation.component.value[x]'],
      'A score from 1 to 5 as it is; one from 0 to 4 by the source’s comfortMap.',
    ),
  ],
  patientExperience: [wordIn('patient-experience', comfortAndSedation.patientExperience.values)],
  sedated: [
    administered('midazolam', 'fentanyl', 'pethidine', 'propofol', 'other-sedative'),
    {
      elements: ['Procedure.performer.function'],
      rungs: ['inferred from who led the sedation'],
      codes: [{ on: 'Procedure.performer.function', ours: ['anaesthetist'] }],
    },
    noDrug('False'),
  ],
  midazolamMilligrams: dose('midazolam'),
  fentanylMicrograms: dose('fentanyl'),
  pethidineMilligrams: dose('pethidine'),
  propofolMilligrams: dose('propofol'),
  nitrousOxide: [administered('nitrous-oxide'), noDrug('False')],
  antispasmodic: [administered('antispasmodic'), noDrug('False')],
  reversalAgent: [administered('reversal-agent'), noDrug('False')],
  anaesthetistLed: [anaesthetist, answerIn('anaesthetist-led')],
}
