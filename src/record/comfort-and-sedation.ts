import type { Field } from './field.ts'

const dose = (drug: string): string =>
  `Sum of MedicationAdministration doses of ${drug}, converted to this unit. 0 only in a complete medication feed; absent where a dose cannot be read, as one of a volume, a rate or a bound.`

export const comfortAndSedation = {
  comfortScale: {
    type: 'code',
    values: ['one-to-five', 'zero-to-four'],
    short: 'Scale of the comfort score. The two are never pooled without a declared map.',
    filledBy: 'Code of the comfort observation. Absent without a score.',
  },
  comfortScore: {
    type: 'integer',
    short: 'Comfort score on that scale; higher is worse.',
    filledBy:
      'Comfort observation; of several scorers the patient’s, else the nurse’s, else the endoscopist’s (a rule of ours). Absent where there is none, it lies outside its scale, or one person’s scores differ.',
  },
  comfortScorer: {
    type: 'code',
    values: ['patient', 'nurse', 'endoscopist'],
    short: 'Who scored comfort.',
    filledBy:
      'Component of the comfort observation, or its performer (the patient, or the operator), or an observation of its own where only one score has no scorer. Absent where none says.',
  },
  comfortOneToFive: {
    type: 'integer',
    short: 'Comfort on the scale from 1 to 5; a score from 0 to 4 only through the source’s declared map.',
    filledBy: 'Comfort score, and the map in the source’s configuration. Absent where the scale has no map.',
  },
  patientExperience: {
    type: 'code',
    values: ['good', 'acceptable', 'poor'],
    short: 'How the patient said that the examination was for them.',
    filledBy: 'Observation of the patient’s experience. Absent where none is coded, or two differ.',
  },
  sedated: {
    type: 'boolean',
    feed: 'medication',
    short: 'Any sedative or opioid given for the examination. Nitrous oxide and antispasmodics are not among them.',
    filledBy:
      'MedicationAdministration of the examination, or sedation led by an anaesthetist. False only in a complete medication feed, with every drug known and no preliminary report.',
  },
  midazolamMilligrams: {
    type: 'decimal',
    unit: 'mg',
    feed: 'medication',
    short: 'Total dose of midazolam.',
    filledBy: dose('midazolam'),
  },
  fentanylMicrograms: {
    type: 'decimal',
    unit: 'ug',
    feed: 'medication',
    short: 'Total dose of fentanyl.',
    filledBy: dose('fentanyl'),
  },
  pethidineMilligrams: {
    type: 'decimal',
    unit: 'mg',
    feed: 'medication',
    short: 'Total dose of pethidine.',
    filledBy: dose('pethidine'),
  },
  propofolMilligrams: {
    type: 'decimal',
    unit: 'mg',
    feed: 'medication',
    short: 'Total dose of propofol.',
    filledBy: dose('propofol'),
  },
  nitrousOxide: {
    type: 'boolean',
    feed: 'medication',
    short: 'Nitrous oxide inhaled.',
    filledBy: 'MedicationAdministration. False only in a complete medication feed.',
  },
  antispasmodic: {
    type: 'boolean',
    feed: 'medication',
    short: 'Antispasmodic given.',
    filledBy: 'MedicationAdministration. False only in a complete medication feed.',
  },
  reversalAgent: {
    type: 'boolean',
    feed: 'medication',
    short: 'Flumazenil or naloxone given.',
    filledBy: 'MedicationAdministration. False only in a complete medication feed.',
  },
  anaesthetistLed: {
    type: 'boolean',
    short: 'Sedation or anaesthesia led by an anaesthetist.',
    filledBy: 'A performer whose function is the anaesthetist, or a yes/no observation. Absent where nothing says.',
  },
} as const satisfies Record<string, Field>
