import { expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, type Resource, snomed, ulcerativeColitis } from '../stories/examination.ts'

const numbers = 'https://hospital.example/numbers'
const identifier = { system: numbers, value: '1' }
const byNumber = { type: 'Patient', identifier }
const colitis = (subject: Resource): Resource => ({
  resourceType: 'Condition',
  id: 'colitis',
  code: snomed(ulcerativeColitis),
  subject,
  recordedDate: '2020-01-01',
})
const perforation = (subject: Resource): Resource => ({
  resourceType: 'AdverseEvent',
  id: 'perforation',
  actuality: 'actual',
  event: fact('perforation'),
  subject,
  date: '2026-03-12',
})
const record = { reference: 'Patient/patient-a' }
/** One examination whose patient is named by an identifier alone; the record carries it. */
const named = (person: Resource = { identifier: [identifier] }, subject: Resource = byNumber): Resource[] =>
  examination({ id: 'a', person, procedure: { subject } })
const afterwards = ['eventCount', 'perforation', 'bleeding', 'hospitalVisitCount', 'unplannedVisit', 'death'] as const
const kept = ['inflammatoryBowelDisease', 'earlierResection', 'laterColorectalCancer', ...afterwards] as const

// FHIR R4 (4.0.1), References, logical references.
it('who is named by an identifier alone is the one whose record carries it', () => {
  const asked = ask([...named(), colitis(record), perforation(record)])
  const { inflammatoryBowelDisease, perforation: perforated, eventCount, age, sex } = asked.only()
  expect({ inflammatoryBowelDisease, perforated, eventCount, age, sex }).toEqual({
    inflammatoryBowelDisease: true,
    perforated: true,
    eventCount: 1,
    age: 60,
    sex: 'female',
  })
  expect(asked.inAnotherOrder()).toEqual(asked.records)
})

it('what is filed under the identifier belongs to the person as well, and so does a conditional reference', () => {
  const conditional = { reference: `Patient?identifier=${numbers}|1` }
  for (const subject of [byNumber, { identifier }, conditional]) {
    const direct = ask([...named(undefined, record), colitis(subject), perforation(subject)]).only()
    expect([direct.inflammatoryBowelDisease, direct.perforation]).toEqual([true, true])
    const both = ask([...named(undefined, subject), colitis(subject), perforation(subject)]).only()
    expect([both.inflammatoryBowelDisease, both.perforation]).toEqual([true, true])
  }
})

it('of several records with one identifier the one that stands after a merge is meant', () => {
  const former = {
    resourceType: 'Patient',
    id: 'former',
    identifier: [identifier],
    link: [{ type: 'replaced-by', other: record }],
  }
  const { inflammatoryBowelDisease } = ask([...named(), former, colitis({ reference: 'Patient/former' })]).only()
  expect(inflammatoryBowelDisease).toBe(true)
})

it('where two people carry the identifier, neither is meant, and nothing that is silent is a no', () => {
  const other = { resourceType: 'Patient', id: 'other', identifier: [identifier] }
  const asked = ask([...named(), other, colitis({ reference: 'Patient/other' }), perforation(record)])
  const only = asked.only()
  expect(kept.map((field) => only[field])).toEqual(kept.map(() => undefined))
  expect(only.age).toBeUndefined()
})

it('an identifier of a group, a location or a practitioner is not a patient’s', () => {
  for (const type of ['Group', 'Location', 'http://hl7.org/fhir/StructureDefinition/Group']) {
    const asked = ask(named(undefined, { type, identifier }))
    expect(asked.leftOut).toEqual([{ reference: 'Procedure/a', reason: 'no patient' }])
  }
  const practitioner = { reference: `Practitioner?identifier=${numbers}|1` }
  expect(ask(named(undefined, practitioner)).leftOut).toEqual([{ reference: 'Procedure/a', reason: 'no patient' }])
})

it('an identifier that nobody carries makes nothing that is silent a no', () => {
  const only = ask(named({ identifier: [{ system: numbers, value: '2' }] })).only()
  expect(kept.map((field) => only[field])).toEqual(kept.map(() => undefined))
  expect([only.polypCount, only.sedated, only.pathology]).toEqual([undefined, undefined, undefined])
})

it('where the patient’s record did not come, silence about the patient is no answer; the examination still tells its own', () => {
  const withRecord = ask(named(undefined, record)).only()
  expect(kept.map((field) => withRecord[field])).toEqual([false, false, false, 0, false, false, 0, false, false])
  const without = ask(named(undefined, record).filter(({ resourceType }) => resourceType !== 'Patient')).only()
  expect(kept.map((field) => without[field])).toEqual(kept.map(() => undefined))
  expect([without.polypCount, without.caecumReached]).toEqual([0, true])
})

it('what is told is still told without the patient’s record', () => {
  const story = named(undefined, record).filter(({ resourceType }) => resourceType !== 'Patient')
  const { inflammatoryBowelDisease, perforation: perforated } = ask([
    ...story,
    colitis(record),
    perforation(record),
  ]).only()
  expect([inflammatoryBowelDisease, perforated]).toEqual([true, true])
})
