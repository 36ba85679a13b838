import type { Field } from './field.ts'

export const whoWhenWhere = {
  procedure: {
    type: 'string',
    short: 'Procedure resource of the examination, as Type/id.',
    filledBy: 'The Procedure itself; of several resources of one examination, the one that carries most.',
  },
  source: { type: 'string', short: 'Configured source the examination was read from.', filledBy: 'Configuration.' },
  unit: {
    type: 'string',
    short: 'Unit in which it was done.',
    filledBy:
      'The source’s unit rules, in order: Procedure.location, Encounter.location, Encounter.serviceProvider, performer.onBehalfOf. Absent: unit unassigned.',
  },
  examinationDate: {
    type: 'date',
    short: 'Civil date on which the examination began, in the unit’s time zone.',
    filledBy:
      'Start of Procedure.performedPeriod, else performedDateTime. An examination whose date is missing, or coarser than a day and not wholly inside the period, is in no figure and is listed.',
  },
  examinationMonth: {
    type: 'string',
    short: 'Month in which the examination began, as YYYY-MM, in the unit’s time zone.',
    filledBy: 'The same element as the date; a date written as a month serves. Absent where it is coarser.',
  },
  startTime: {
    type: 'string',
    short: 'Clock time at which it began, HH:MM in the unit’s time zone.',
    filledBy: 'The same element as the date. Absent where only a date is written.',
  },
  age: {
    type: 'integer',
    unit: 'a',
    short: 'Age in whole years on the examination date.',
    filledBy: 'Patient.birthDate. Absent where the birth date is too coarse to decide the year of age.',
  },
  sex: {
    type: 'code',
    values: ['female', 'male', 'other', 'unknown'],
    short: 'Administrative gender.',
    filledBy: 'Patient.gender. Absent where the patient or the gender is.',
  },
  operator: {
    type: 'string',
    short: 'Key of the person who performed it: identifier system and value, else source and id; never the name.',
    filledBy:
      'Procedure.performer with an operator’s function, through PractitionerRole and contained resources; else its only performer; else the encounter’s only performing participant. Absent, and unattributed, where two fit equally, or where only an organisation or a name is given.',
  },
  operatorRole: {
    type: 'code',
    values: ['independent', 'trainee'],
    short: 'Whether the operator was in training.',
    filledBy: 'The operator’s function code. Absent where the performer has none, or two that differ.',
  },
  supervisor: {
    type: 'string',
    short: 'Key of the supervising person.',
    filledBy: 'Procedure.performer whose function is a supervisor. Absent where nobody is named so, or two are.',
  },
  supervisorInRoom: {
    type: 'boolean',
    short: 'Whether the supervisor was in the room.',
    filledBy: 'The supervisor’s function code. Absent without a supervisor.',
  },
  takeover: {
    type: 'code',
    values: ['none', 'verbal', 'hands-on'],
    short: 'Help that a trainee was given: none, in words, or by taking over the instrument.',
    filledBy:
      'Takeover observation; of several that differ the latest final one. Absent where nobody states it; an independent operator has none to state.',
  },
  setting: {
    type: 'code',
    values: ['outpatient', 'inpatient', 'emergency'],
    short: 'Setting of the encounter.',
    filledBy: 'Encounter.class. Absent where the encounter or a class we know is.',
  },
} as const satisfies Record<string, Field>
