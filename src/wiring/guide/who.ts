import { whoWhenWhere } from '../../record/who-when-where.ts'
import { wordIn } from './observed.ts'
import type { Way, WaysOf } from './way.ts'

const performer = (...ours: string[]): Way => ({
  elements: ['Procedure.performer.function'],
  rungs: ['own element'],
  codes: [{ on: 'Procedure.performer.function', ours }],
})
const supervised = performer('supervisor-in-room', 'supervisor-not-in-room')
const patient = (element: string, note: string): Way => ({ elements: [element], rungs: ['direct reference'], note })
const began: Way = {
  elements: ['Procedure.performedPeriod', 'Procedure.performedDateTime'],
  rungs: ['own element'],
  note: 'Send a time with its offset; its date in the unit’s time zone decides, at the start.',
}
const place = (element: string, setting: string): Way => ({
  elements: [element],
  rungs: [],
  note: `A reference that a unit of the source names in match.${setting}: as Type/id, or as system|value where it is logical.`,
})

export const whoAccepted: WaysOf<typeof whoWhenWhere> = {
  procedure: [
    {
      elements: ['Procedure.id'],
      rungs: ['own element'],
      codes: [{ on: 'Procedure.code', valueSets: ['colonoscopy'] }],
      note: 'A Procedure with one of these codes, of status completed or stopped, that is no part of another colonoscopy.',
    },
  ],
  source: [{ elements: ['id of the source, in SOURCES'], rungs: [], note: 'Configuration; no FHIR element.' }],
  unit: [
    place('Procedure.location', 'procedureLocation'),
    place('Encounter.location.location', 'encounterLocation'),
    place('Encounter.serviceProvider', 'serviceProvider'),
    place('Procedure.performer.onBehalfOf', 'onBehalfOf'),
  ],
  examinationDate: [began],
  examinationMonth: [began],
  startTime: [began],
  age: [patient('Patient.birthDate', 'A month or a year serves where it decides the age.')],
  sex: [patient('Patient.gender', 'The codes of FHIR: female, male, other, unknown.')],
  operator: [
    performer('operator', 'operator-in-training'),
    {
      elements: ['Procedure.performer'],
      rungs: ['own element'],
      note: 'The only person among performers without a function.',
    },
    {
      elements: ['Encounter.participant'],
      rungs: ['shared encounter'],
      codes: [
        {
          on: 'Encounter.participant.type',
          ours: ['operator'],
          fhir: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType', code: 'PPRF' }],
        },
      ],
      note: 'The only participant of these types; where nobody has one, the only participant without a type.',
    },
  ],
  operatorRole: [performer('operator', 'operator-in-training')],
  supervisor: [supervised],
  supervisorInRoom: [supervised],
  takeover: [wordIn('takeover', whoWhenWhere.takeover.values)],
  setting: [
    {
      elements: ['Encounter.class'],
      rungs: ['direct reference'],
      codes: [{ on: 'Encounter.class', conceptMaps: ['setting'], ours: whoWhenWhere.setting.values }],
      note: 'Of the encounter in Procedure.encounter.',
    },
  ],
}

/** Exported for the fields of other groups that rest on people. */
export const anaesthetist: Way = performer('anaesthetist')
