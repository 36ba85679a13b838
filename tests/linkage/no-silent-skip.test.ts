import { describe, expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { Survey } from '../../src/linkage/survey.ts'
import { definitions } from '../stories/ask.ts'
import { fact, snomed, ulcerativeColitis } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { bareProcedure, observationOf } from './bare-examination.ts'
import type { Json } from './spoils.ts'
import { tracesOf } from './traces.ts'

// Each of these once fell out of the record without a word. The rule is issue 11's: the report shows whatever did not fit.
const patient: Json = { resourceType: 'Patient', id: 'a', birthDate: '1960-01-01', gender: 'female' }
const ofA = { reference: 'Patient/a' }
const local = { coding: [{ system: 'https://northmoor.example/codes', code: 'X1' }] }
const codes = new Codes(definitions.resources)

function told(resources: readonly Json[], source = northmoor): string[] {
  const survey = new Survey()
  const window = { start: '2026-01-01', end: '2026-12-31' }
  const linked = linkWindow(resources, { source, codes, window, asOf: Date.parse('2027-06-01T12:00:00Z'), survey })
  return [...tracesOf(linked, survey).keys()]
}

const examined = (...more: Json[]): Json[] => [patient, bareProcedure(), ...more]
const told1 = (...more: Json[]) => told(examined(...more))
const unmatched = (where: string) => expect.stringContaining(`unmatched: ["${where}"`)

const condition = (more: Json): Json => ({ resourceType: 'Condition', id: 'c', subject: ofA, ...more })
const event = (more: Json): Json => ({
  resourceType: 'AdverseEvent',
  id: 'v',
  actuality: 'actual',
  subject: ofA,
  event: snomed('95540002'),
  date: '2026-03-11',
  ...more,
})
const order = (more: Json): Json => ({
  resourceType: 'ServiceRequest',
  id: 's',
  status: 'active',
  intent: 'order',
  subject: ofA,
  code: snomed('73761001'),
  ...more,
})

describe('nothing falls out of the record without a trace', () => {
  it.each<[string, readonly Json[], unknown]>([
    ['an examination without an id', [patient, bareProcedure({ id: undefined })], 'left out: no id'],
    ['a procedure of a code nobody knows', [patient, bareProcedure({ code: local })], unmatched('Procedure.code')],
    [
      'a procedure without a code',
      [patient, bareProcedure({ code: undefined })],
      'malformed: Procedure.code (missing)',
    ],
    ['a patient who did not come', [bareProcedure()], 'dead end: Procedure.subject'],
    ['something without a type', examined({ id: 'x' }), 'malformed: a resource without a type'],
    [
      'a birth date that is none',
      [{ ...patient, birthDate: '1960-13-45' }, bareProcedure()],
      'unreadable: age in Patient.birthDate',
    ],
    [
      'a birth date after the examination',
      [{ ...patient, birthDate: '2027-01-01' }, bareProcedure()],
      'unreadable: age in Patient.birthDate',
    ],
    ['a sex in another word', [{ ...patient, gender: 'w' }, bareProcedure()], 'unreadable: sex in Patient.gender'],
  ])('%s', (_, resources, trace) => {
    expect(told(resources)).toContainEqual(trace)
  })

  it.each<[string, Json, unknown]>([
    ['a condition of a code nobody knows', condition({ code: local }), unmatched('Condition.code')],
    [
      'a condition of a patient who did not come',
      condition({ code: snomed(ulcerativeColitis), subject: { reference: 'Patient/gone' } }),
      'unlinked: Condition of a patient who did not come',
    ],
    [
      'a polyp as a condition of an encounter that is no examination’s',
      condition({ code: snomed('399505005'), encounter: { reference: 'Encounter/gone' } }),
      'unlinked: Condition: polyp',
    ],
    [
      'an earlier operation without a date that can be read',
      {
        resourceType: 'Procedure',
        id: 'r',
        status: 'completed',
        code: snomed('44751009'),
        subject: ofA,
        performedDateTime: 'May',
      },
      'doubt: operation that does not say whether it was done before the examination',
    ],
    [
      'a dose of another day, part of something that did not come',
      {
        resourceType: 'MedicationAdministration',
        id: 'm',
        status: 'completed',
        subject: ofA,
        partOf: [{ reference: 'Procedure/gone' }],
        medicationCodeableConcept: fact('midazolam'),
        effectiveDateTime: '2026-03-20',
      },
      'unlinked: MedicationAdministration',
    ],
    [
      'a panel without a code we know, of an examination that did not come',
      observationOf(local, {
        partOf: [{ reference: 'Procedure/gone' }],
        component: [{ code: fact('dye'), valueBoolean: true }],
      }),
      'unlinked: Observation',
    ],
    [
      'an endoscopy report of an encounter that is no examination’s',
      {
        resourceType: 'DiagnosticReport',
        id: 'd',
        status: 'final',
        code: { coding: [{ system: 'http://loinc.org', code: '18746-8' }] },
        encounter: { reference: 'Encounter/gone' },
      },
      'unlinked: DiagnosticReport of an endoscopy',
    ],
    ['an order for a colonoscopy of no encounter', order({}), 'unlinked: ServiceRequest for a colonoscopy'],
    [
      'a visit without a day',
      {
        resourceType: 'Encounter',
        id: 'e',
        status: 'finished',
        class: { system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode', code: 'EMER' },
        subject: ofA,
      },
      'doubt: hospital visit of which it is not certain that it followed',
    ],
    [
      'an event that suspects an examination that did not come',
      event({ suspectEntity: [{ instance: { reference: 'Procedure/gone' } }] }),
      'dead end: AdverseEvent.suspectEntity.instance',
    ],
    [
      'an event that resulted in a condition that did not come',
      event({ resultingCondition: [{ reference: 'Condition/gone' }] }),
      'dead end: AdverseEvent.resultingCondition',
    ],
    ['a severity of a code nobody knows', event({ severity: local }), unmatched('AdverseEvent.severity')],
    ['an outcome of a code nobody knows', event({ outcome: local }), unmatched('AdverseEvent.outcome')],
    [
      'a component of a polyp that is of something else',
      observationOf(snomed('399505005'), { component: [{ code: fact('withdrawal-time'), valueInteger: 9 }] }),
      unmatched('Observation.component.code (polyp)'),
    ],
    [
      'a component of a comfort score that nobody knows',
      observationOf(fact('comfort-one-to-five'), { valueInteger: 2, component: [{ code: local, valueBoolean: true }] }),
      unmatched('Observation.component.code (comfort)'),
    ],
    [
      'a component of advice that nobody knows',
      observationOf(fact('advice'), {
        valueCodeableConcept: fact('repeat-colonoscopy'),
        component: [{ code: local, valueInteger: 36 }],
      }),
      unmatched('Observation.component.code (advice)'),
    ],
    [
      'a segment nobody knows, said not to be scored',
      observationOf(snomed('722819004'), { bodySite: local, dataAbsentReason: { text: 'resected' } }),
      unmatched('Observation.bodySite (boston-segment)'),
    ],
    [
      'a reason why a segment is not scored that nobody knows',
      observationOf(snomed('722819004'), { bodySite: snomed('51342009'), dataAbsentReason: local }),
      unmatched('Observation.dataAbsentReason'),
    ],
  ])('%s', (_, resource, trace) => {
    expect(told1(resource)).toContainEqual(trace)
  })

  it('a place that is no unit’s', () => {
    const source = { ...northmoor, units: [{ id: 'u', name: 'U', zone: 'Europe/London', match: {} }] }
    const resources = [patient, bareProcedure({ location: { reference: 'Location/cellar' } })]
    expect(told(resources, source)).toContainEqual(unmatched('Procedure.location'))
  })

  it('a person who has no identifier of the configured system', () => {
    const resources = [
      { resourceType: 'Practitioner', id: 'p1', identifier: [{ system: 'https://other.example', value: '7' }] },
      patient,
      bareProcedure({ performer: [{ function: fact('operator'), actor: { reference: 'Practitioner/p1' } }] }),
    ]
    const source = { ...northmoor, practitionerSystem: 'https://northmoor.example/staff' }
    expect(told(resources, source)).toContain('doubt: person without an identifier of the configured system')
  })

  it('a size of which nothing says whose it is', () => {
    const polyp = () => observationOf(snomed('399505005'))
    const size = observationOf(fact('polyp-size'), { valueQuantity: { value: 6, code: 'mm' } })
    expect(told1(polyp(), polyp(), size)).toContain('doubt: size of which nothing says which polyp it is of')
  })

  it('but a complete examination leaves none', () => {
    expect(told(examined())).toEqual([])
  })
})
