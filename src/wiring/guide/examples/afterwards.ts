import type { AdverseEvent, Encounter } from 'fhir/r4'
import type { Example } from './example.ts'
import { at, coded, condition, observation, ours, quantity, snomed } from './resources.ts'

const adverseEvent = (kind: string, severity: 'mild' | 'moderate' | 'severe', date: string): AdverseEvent => ({
  resourceType: 'AdverseEvent',
  id: `example-${kind}`,
  actuality: 'actual',
  event: ours(kind),
  subject: at('Patient/example-patient'),
  date,
  severity: { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/adverse-event-severity', code: severity }] },
  suspectEntity: [{ instance: at('Procedure/example-colonoscopy') }],
})

const emergency: Encounter = {
  resourceType: 'Encounter',
  id: 'example-visit',
  status: 'finished',
  class: { system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode', code: 'EMER' },
  subject: at('Patient/example-patient'),
  period: { start: '2026-03-15T20:10:00Z', end: '2026-03-15T23:40:00Z' },
}

export const afterwards: readonly Example[] = [
  {
    id: 'perforation',
    title: 'An adverse event that names the colonoscopy',
    resources: [adverseEvent('perforation', 'severe', '2026-03-12')],
    gives: {
      eventCount: 1,
      events: [{ kind: 'perforation', severity: 'severe', day: 2 }],
      perforation: true,
      perforationDay: 2,
      perforationSeverity: 'severe',
    },
  },
  {
    id: 'bleeding',
    title: 'Bleeding a week later',
    resources: [adverseEvent('bleeding', 'moderate', '2026-03-17')],
    gives: { bleeding: true, bleedingDay: 7, bleedingSeverity: 'moderate' },
  },
  {
    id: 'complication',
    title: 'A complication in the procedure itself',
    changes: { procedure: { complication: [ours('cardiopulmonary-event')] } },
    gives: { cardiopulmonaryEvent: true, cardiopulmonaryEventDay: 0 },
  },
  {
    id: 'visit',
    title: 'A visit to the emergency department',
    resources: [emergency],
    gives: {
      hospitalVisitCount: 1,
      visits: [{ day: 5, planned: false }],
      unplannedVisit: true,
      unplannedVisitDay: 5,
    },
  },
  {
    id: 'death',
    title: 'A death, with its date',
    changes: { patient: { deceasedDateTime: '2026-09-01' } },
    gives: { death: true, deathDay: 175 },
  },
  {
    id: 'advice',
    title: 'Advice, with the interval as its component',
    resources: [
      observation('advice', ours('advice'), {
        effectiveDateTime: '2026-03-10T10:00:00Z',
        valueCodeableConcept: ours('repeat-colonoscopy'),
        component: [{ code: ours('advised-interval'), valueQuantity: quantity(3, 'a') }],
      }),
    ],
    gives: { advice: 'repeat-colonoscopy', advisedIntervalMonths: 36 },
  },
  {
    id: 'advice-after-pathology',
    title: 'Advice signed after the report of pathology',
    resources: [
      {
        resourceType: 'Specimen',
        id: 'example-pot',
        subject: at('Patient/example-patient'),
        collection: { collectedDateTime: '2026-03-10T09:20:00Z' },
      },
      {
        resourceType: 'DiagnosticReport',
        id: 'example-pathology',
        status: 'final',
        code: coded('http://loinc.org', '11526-1'),
        subject: at('Patient/example-patient'),
        encounter: at('Encounter/example-encounter'),
        specimen: [at('Specimen/example-pot')],
        issued: '2026-03-13T15:00:00Z',
        conclusionCode: [ours('conventional-adenoma')],
      },
      observation('advice', ours('advice'), {
        issued: '2026-03-16T10:00:00Z',
        valueCodeableConcept: ours('repeat-colonoscopy'),
      }),
    ],
    gives: { adviceAfterPathology: true, pathology: 'final' },
  },
  {
    id: 'cancer-soon',
    title: 'A cancer diagnosed three weeks later',
    resources: [condition('cancer', snomed('363406005'), { onsetDateTime: '2026-03-31', recordedDate: '2026-04-02' })],
    gives: { cancerWithinSixMonths: true },
  },
  {
    id: 'later-cancer',
    title: 'A cancer diagnosed later',
    resources: [condition('cancer', snomed('363406005'), { onsetDateTime: '2027-02-01', recordedDate: '2027-02-03' })],
    gives: { laterColorectalCancer: true, laterColorectalCancerDay: 328 },
  },
  {
    id: 'nothing-afterwards',
    title: 'Nothing happened, in complete feeds',
    settings: { completeFeeds: ['events', 'visits', 'deaths', 'cancers'] },
    gives: {
      eventCount: 0,
      events: [],
      perforation: false,
      bleeding: false,
      cardiopulmonaryEvent: false,
      hospitalVisitCount: 0,
      visits: [],
      unplannedVisit: false,
      death: false,
      cancerWithinSixMonths: false,
      laterColorectalCancer: false,
    },
  },
]
