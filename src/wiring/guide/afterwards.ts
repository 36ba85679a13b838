import { afterwards } from '../../record/afterwards.ts'
import { asHistory, bySamePatient, observedIn, silence, wordIn } from './observed.ts'
import type { CodesOn, Way, WaysOf } from './way.ts'

const noEvent = silence('AdverseEvent', 'False or 0 where the source declares a complete feed of events.')
const allEvents = ['perforation', 'bleeding', 'cardiopulmonary']

function told(...valueSets: string[]): readonly Way[] {
  const codes = (on: string): readonly CodesOn[] => [{ on, valueSets }]
  return [
    {
      elements: ['Procedure.complication'],
      rungs: ['own element', 'direct reference', 'shared encounter'],
      codes: codes('Procedure.complication'),
      note: 'Of the colonoscopy, or of a sub-procedure.',
    },
    {
      elements: ['AdverseEvent.event', 'AdverseEvent.resultingCondition'],
      rungs: ['direct reference', ...bySamePatient],
      codes: codes('AdverseEvent.event, or code of a Condition in resultingCondition'),
      note: 'suspectEntity.instance names the Procedure; without it the patient’s latest earlier examination that could have caused it. Actuality potential does not count.',
    },
    {
      elements: ['Condition.code'],
      rungs: ['direct reference', ...bySamePatient],
      codes: codes('Condition.code'),
      note: 'Named in Procedure.complicationDetail; or of the same patient, dated after the examination.',
    },
  ]
}
const severity = (...valueSets: string[]): readonly Way[] => [
  {
    elements: ['AdverseEvent.outcome', 'AdverseEvent.severity', 'Condition.severity'],
    rungs: ['direct reference', ...bySamePatient],
    codes: [
      { on: 'the event’s code', valueSets },
      {
        on: 'AdverseEvent.severity or outcome, Condition.severity',
        conceptMaps: ['event-severity'],
        ours: ['mild', 'moderate', 'severe', 'fatal'],
      },
    ],
  },
]
const visit: Way = {
  elements: ['Encounter.period'],
  rungs: bySamePatient,
  codes: [{ on: 'Encounter.class', conceptMaps: ['visit-class'] }],
  note: 'Emergency, inpatient, short stay or observation, begun after the examination and within 30 days; not planned, cancelled or unknown in its status.',
}
const noVisit = silence('Encounter', 'None where the source declares a complete feed of visits.')
const planning: Way = {
  elements: ['Encounter.class', 'Encounter.priority', 'Encounter.hospitalization.admitSource', 'Encounter.appointment'],
  rungs: bySamePatient,
  codes: [
    { on: 'Encounter.class', conceptMaps: ['visit-class'] },
    { on: 'Encounter.priority or hospitalization.admitSource', conceptMaps: ['visit-planning'] },
  ],
  note: 'An emergency was not planned; an appointment says that the visit was.',
}
const interval = observedIn(['valueQuantity', 'valueInteger', 'valueString'], {
  ours: ['advised-interval'],
  note: 'Status final, amended or corrected. In mo, a, wk or d (UCUM); a bare number is months.',
})
const orders: Way = {
  elements: ['ServiceRequest.occurrenceDateTime', 'ServiceRequest.occurrencePeriod'],
  rungs: ['shared encounter'],
  codes: [{ on: 'ServiceRequest.code', valueSets: ['colonoscopy'] }],
  note: 'An order (intent order or plan, status active or completed) for another colonoscopy, made in the examination’s encounter.',
}

export const afterwardsAccepted: WaysOf<typeof afterwards> = {
  eventCount: [...told(...allEvents), noEvent],
  events: [...told(...allEvents), noEvent],
  'events.kind': told(...allEvents),
  'events.severity': severity(...allEvents),
  'events.day': told(...allEvents),
  perforation: [...told('perforation'), noEvent],
  perforationDay: told('perforation'),
  perforationSeverity: severity('perforation'),
  bleeding: [...told('bleeding'), noEvent],
  bleedingDay: told('bleeding'),
  bleedingSeverity: severity('bleeding'),
  cardiopulmonaryEvent: [...told('cardiopulmonary'), noEvent],
  cardiopulmonaryEventDay: told('cardiopulmonary'),
  hospitalVisitCount: [visit, noVisit],
  visits: [visit, noVisit],
  'visits.day': [visit],
  'visits.planned': [planning],
  unplannedVisit: [visit, noVisit],
  unplannedVisitDay: [visit],
  death: [
    { elements: ['Patient.deceasedDateTime', 'Patient.deceasedBoolean'], rungs: ['direct reference'] },
    silence('Patient.deceased[x]', 'False where the source declares a complete feed of deaths.'),
  ],
  deathDay: [{ elements: ['Patient.deceasedDateTime'], rungs: ['direct reference'], note: 'To the day.' }],
  advice: [
    wordIn('advice', afterwards.advice.values, 'Status final, amended or corrected.'),
    {
      elements: ['Procedure.followUp'],
      rungs: ['own element'],
      codes: [{ on: 'Procedure.followUp', ours: afterwards.advice.values }],
    },
    { ...interval, note: 'An interval to the next colonoscopy advises a repeat.' },
    { ...orders, elements: [...orders.elements, 'ServiceRequest.occurrenceTiming'] },
  ],
  advisedIntervalMonths: [interval, orders],
  adviceAfterPathology: [
    {
      elements: ['DiagnosticReport.issued', 'DiagnosticReport.effectiveDateTime', 'DiagnosticReport'],
      rungs: ['inferred from pathology'],
      note: 'The latest signed advice, by the ways of the fact advice, beside the final reports of pathology. On one day times decide. True where no pathology was sent.',
    },
  ],
  cancerWithinSixMonths: [
    {
      elements: ['DiagnosticReport.result'],
      rungs: ['inferred from pathology'],
      codes: [{ on: 'results of the examination’s pathology', conceptMaps: ['histology'], ours: ['cancer'] }],
    },
    {
      elements: ['Condition.code'],
      rungs: asHistory,
      codes: [{ on: 'Condition.code', valueSets: ['colorectal-cancer'] }],
      note: 'Dated from the day of the examination to 183 days after it, by its onset, else by recordedDate; confirmed.',
    },
    silence(
      'Condition.code',
      'False where the source declares a complete feed of cancers, once 183 days are over since the examination.',
    ),
  ],
  laterColorectalCancer: [
    {
      elements: ['Condition.code'],
      rungs: asHistory,
      codes: [{ on: 'Condition.code', valueSets: ['colorectal-cancer'] }],
      note: 'More than 183 days after the examination by its onset, else by recordedDate; confirmed.',
    },
    silence('Condition.code', 'False where the source declares a complete feed of cancers.'),
  ],
  laterColorectalCancerDay: [
    {
      elements: ['Condition.onset[x]', 'Condition.recordedDate'],
      rungs: asHistory,
      codes: [{ on: 'Condition.code', valueSets: ['colorectal-cancer'] }],
    },
  ],
}
