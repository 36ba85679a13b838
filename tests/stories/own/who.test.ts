import { describe, expect, it } from 'vitest'
import type { Source } from '../../../src/config.ts'
import { ask } from '../ask.ts'
import { type ExaminationFacts, examination, fact, type Resource, word, yesNo } from '../examination.ts'
import { expectAnswers, expectFacts, measureIds } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// FHIR R4: Procedure.performer (function 0..1, actor of several types), PractitionerRole.practitioner, contained resources,
// Encounter.participant with v3-ParticipationType. An examination is its operator's (UK 2016 volume row, read); what nobody can
// be given stays in the unit's figures: this service's rule, no source. Identifier system 2.999 is the example arc of X.660.
const licence = 'urn:oid:2.999.1.2'
const licensed: Source = { ...northmoor, practitionerSystem: licence }
const year = { start: '2026-01-01', end: '2026-12-31' }
const performedBy = (performer: Resource[], more: Partial<ExaminationFacts> = {}, procedure: Resource = {}) =>
  examination({ id: 'a', ...more, procedure: { performer, ...procedure } })
const person = (id: string, identifier?: string): Resource => ({
  resourceType: 'Practitioner',
  id,
  ...(identifier !== undefined && { identifier: [{ system: licence, value: identifier }] }),
})
const by = (reference: string, role?: string): Resource => ({
  actor: { reference },
  ...(role !== undefined && { function: fact(role) }),
})

describe('who performed it', () => {
  it('two performers without a function: neither of them, and still one of the unit’s', () => {
    // Usual wrong answer: the first of the list, or half to each.
    const story = ask(performedBy([by('Practitioner/one'), by('Practitioner/two')]))
    expectFacts(story, { operator: undefined, operatorRole: undefined })
    expect(story.takenDown().doubts).toContain('two performers without a function')
    const { whole } = story.report(measureIds.caecum, year)
    expect(whole.settled).toMatchObject({ met: 1, denominator: 1 })
    expect(whole.apart.unattributed).toBe(1)
  })

  it('a function in words alone is no function, and is listed as not matched', () => {
    // Usual wrong answer: the words decide.
    const endoscopist = { function: { text: 'Endoscopist' }, actor: { reference: 'Practitioner/two' } }
    const story = ask(performedBy([by('Practitioner/nurse'), endoscopist]))
    expectFacts(story, { operator: undefined })
    expect(story.takenDown().unmatched.map(({ words }) => words)).toContain('Endoscopist')
  })

  it('a trainee with a supervisor out of the room is the operator; the supervisor is named and was not in', () => {
    // Usual wrong answer: the supervisor’s examination, or one for each.
    const story = ask(
      performedBy([
        by('Practitioner/trainee', 'operator-in-training'),
        by('Practitioner/senior', 'supervisor-not-in-room'),
      ]),
    )
    expectFacts(story, {
      operator: 'northmoor/Practitioner/trainee',
      operatorRole: 'trainee',
      supervisor: 'northmoor/Practitioner/senior',
      supervisorInRoom: false,
      takeover: undefined,
    })
    expectAnswers(story, { caecum: 'met' })
  })

  it('taken over by hand, it is recorded as taken over, and stays the trainee’s', () => {
    // Usual wrong answer: an unassisted success of the trainee.
    const story = ask(
      performedBy(
        [by('Practitioner/trainee', 'operator-in-training'), by('Practitioner/senior', 'supervisor-in-room')],
        { said: [word('takeover', 'hands-on')] },
      ),
    )
    expectFacts(story, {
      operator: 'northmoor/Practitioner/trainee',
      operatorRole: 'trainee',
      supervisorInRoom: true,
      takeover: 'hands-on',
    })
  })

  it('two Practitioner copies with one licence number are one person, where that system is configured', () => {
    // Usual wrong answer: two endoscopists with one examination each.
    const resources = [
      ...examination({ id: 'a', operator: 'copy-1' }),
      ...examination({ id: 'b', operator: 'copy-2' }),
      person('copy-1', 'E-17'),
      person('copy-2', 'E-17'),
    ]
    const operators = (source: Source) => ask(resources, '2027-01-01', source).records.map(({ operator }) => operator)
    expect(operators(licensed)).toEqual([`${licence}|E-17`, `${licence}|E-17`])
    expect(operators(northmoor)).toEqual(['northmoor/Practitioner/copy-1', 'northmoor/Practitioner/copy-2'])
  })

  it('a contained performer is the person of its licence number, and nobody without one', () => {
    // Usual wrong answer: the key "#e", which is somebody else in every resource.
    const contained = (identifier?: string) =>
      performedBy([by('#e', 'operator')], {}, { contained: [person('e', identifier)] })
    expectFacts(ask(contained('E-17'), '2027-01-01', licensed), { operator: `${licence}|E-17` })
    const nobody = ask(contained(), '2027-01-01', licensed)
    expectFacts(nobody, { operator: undefined })
    expectAnswers(nobody, { caecum: 'met' })
  })

  it.each([
    ['an organisation', { reference: 'Organization/clinic' }],
    ['a name alone', { display: 'Dr A. Example' }],
    ['a device', { reference: 'Device/tower' }],
  ])('%s is nobody: unattributed, counted in the unit', (_, actor) => {
    // Usual wrong answer: an endoscopist called "Organization/clinic"; or the examination is dropped.
    const story = ask(performedBy([{ actor, function: fact('operator') }]))
    expectFacts(story, { operator: undefined })
    const { whole, practitioners } = story.report(measureIds.caecum, year)
    expect(whole.settled.met).toBe(1)
    expect(whole.apart.unattributed).toBe(1)
    expect(practitioners.filter(({ key }) => key !== undefined)).toEqual([])
  })

  it('a role leads to its practitioner, by reference or by licence number', () => {
    // Usual wrong answer: the role is a person of its own.
    const role = (practitioner: Resource) => [
      ...performedBy([by('PractitionerRole/r', 'operator')]),
      { resourceType: 'PractitionerRole', id: 'r', practitioner },
      person('nine', 'E-9'),
    ]
    const byReference = ask(role({ reference: 'Practitioner/nine' }), '2027-01-01', licensed)
    expectFacts(byReference, { operator: `${licence}|E-9` })
    const byNumber = ask(role({ identifier: { system: licence, value: 'E-9' } }), '2027-01-01', licensed)
    expectFacts(byNumber, { operator: `${licence}|E-9` })
  })

  it('without a performer, the encounter’s only performing participant', () => {
    // Usual wrong answer: the admitting physician, or nobody.
    const participant = (code: string, id: string) => ({
      type: [{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType', code }] }],
      individual: { reference: `Practitioner/${id}` },
    })
    const story = ask(
      performedBy([], { encounter: { participant: [participant('ADM', 'ward'), participant('PPRF', 'scope')] } }),
    )
    expectFacts(story, { operator: 'northmoor/Practitioner/scope' })
  })

  it('the anaesthetist is not the operator, and leads the sedation', () => {
    // Usual wrong answer: two performers, so nobody; or no drug is recorded, so unsedated.
    const story = ask(
      performedBy([by('Practitioner/gas', 'anaesthetist'), by('Practitioner/scope')], {
        said: [yesNo('computer-aided-detection', true)],
      }),
    )
    expectFacts(story, {
      operator: 'northmoor/Practitioner/scope',
      anaesthetistLed: true,
      sedated: true,
      computerAidedDetection: true,
    })
  })

  it('two people who are both called operator: unattributed', () => {
    // Usual wrong answer: whoever stands first.
    const story = ask(performedBy([by('Practitioner/one', 'operator'), by('Practitioner/two', 'operator')]))
    expectFacts(story, { operator: undefined })
    expectAnswers(story, { caecum: 'met' })
  })
})
