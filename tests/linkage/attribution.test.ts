import { describe, expect, it } from 'vitest'
import { attribute } from '../../src/linkage/attribution.ts'
import { examination, fact } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { oneExamination } from './one-examination.ts'

// The ladder of attribution is this service's own rule (common practice, no source); shapes of performers are those met in open
// records and allowed by FHIR R4, Procedure.performer.actor and Reference.
type Resource = Record<string, unknown>
const person = (id: string): Resource => ({ reference: `Practitioner/${id}` })
const by = (id: string, role?: string): Resource => ({
  actor: person(id),
  ...(role !== undefined && { function: fact(role) }),
})
const system = 'https://people.northmoor.example/id'
const configured = { ...northmoor, practitionerSystem: system }

/** Procedure `a` performed as told, with more resources beside it. */
function who(performer: unknown, more: readonly Resource[] = [], source = northmoor, procedure: Resource = {}) {
  const resources = examination({ id: 'a' }).map((resource) =>
    resource.resourceType === 'Procedure' ? { ...resource, performer, ...procedure } : resource,
  )
  const one = oneExamination([...resources, ...more], source)
  return { ...attribute(one.examination, one.reading, one.personKey), ...one }
}

/** A second resource of the same examination. */
const copy = (performer: Resource[]): Resource => ({
  resourceType: 'Procedure',
  id: 'copy',
  status: 'completed',
  code: { coding: [{ system: 'http://snomed.info/sct', code: '73761001' }] },
  subject: { reference: 'Patient/patient-a' },
  performedPeriod: { start: '2026-03-10T09:00:00Z' },
  performer,
})

const participants = (...participant: Resource[]): Resource => ({
  resourceType: 'Encounter',
  id: 'encounter-a',
  status: 'finished',
  meta: { versionId: '2' },
  class: { code: 'AMB' },
  participant,
})
const primary = (id: string): Resource => ({ type: [{ coding: [{ code: 'PPRF' }] }], individual: person(id) })
const said = (code: string, value: Resource, more: Resource = {}): Resource => ({
  resourceType: 'Observation',
  id: `${code}-${JSON.stringify({ value, more }).length}-${JSON.stringify(value)}`,
  status: 'final',
  code: fact(code),
  partOf: [{ reference: 'Procedure/a' }],
  ...value,
  ...more,
})
const doubtsOf = ({ trail }: ReturnType<typeof who>) => trail.doubts.map(({ kind }) => kind)
const contradictionsOf = ({ trail }: ReturnType<typeof who>) => trail.contradictions.map(({ kind }) => kind)

describe('who performed it', () => {
  it('a lone performer without a function is the operator, of unknown role', () => {
    expect(who([by('x')])).toMatchObject({ operator: 'northmoor/Practitioner/x', operatorRole: undefined })
  })

  it('two persons without functions are neither split nor doubled, and listed', () => {
    const result = who([by('x'), by('y')])
    expect(result.operator).toBeUndefined()
    expect(doubtsOf(result)).toEqual(['two performers without a function'])
  })

  it('one person and one of whom only the name is known are two', () => {
    expect(who([by('x'), { actor: { display: 'Dr Somebody' } }]).operator).toBeUndefined()
  })

  it('an organisation beside a person is no second performer', () => {
    expect(who([by('x'), { actor: { reference: 'Organization/o' } }]).operator).toBe('northmoor/Practitioner/x')
  })

  it('functions tell trainee and supervisor apart', () => {
    expect(who([by('s', 'supervisor-in-room'), by('t', 'operator-in-training')])).toMatchObject({
      operator: 'northmoor/Practitioner/t',
      operatorRole: 'trainee',
      supervisor: 'northmoor/Practitioner/s',
      supervisorInRoom: true,
    })
  })

  it('a supervisor who was not in the room was not in the room', () => {
    expect(who([by('s', 'supervisor-not-in-room'), by('t', 'operator-in-training')]).supervisorInRoom).toBe(false)
  })

  it.each([
    ['operator', 'operator'],
    ['operator', 'operator-in-training'],
  ])('two persons called %s and %s: unattributed, in whatever order', (one, other) => {
    for (const performers of [
      [by('x', one), by('y', other)],
      [by('y', other), by('x', one)],
    ]) {
      const result = who(performers)
      expect(result).toMatchObject({ operator: undefined, operatorRole: undefined })
      expect(doubtsOf(result)).toContain('two persons with the function of one')
    }
  })

  it('one person called both independent and in training has no role, and the contradiction is listed', () => {
    const result = who([by('x', 'operator'), by('x', 'operator-in-training')])
    expect(result).toMatchObject({ operator: 'northmoor/Practitioner/x', operatorRole: undefined })
    expect(contradictionsOf(result)).toEqual(['one person with two functions'])
  })

  it('two supervisors: neither, and nobody is said to have been in the room', () => {
    const result = who([by('x', 'operator'), by('s', 'supervisor-in-room'), by('t', 'supervisor-not-in-room')])
    expect(result).toMatchObject({ supervisor: undefined, supervisorInRoom: undefined })
  })

  it('one supervisor both in and out of the room leaves that open', () => {
    const result = who([by('x', 'operator'), by('s', 'supervisor-in-room'), by('s', 'supervisor-not-in-room')])
    expect(result).toMatchObject({ supervisor: 'northmoor/Practitioner/s', supervisorInRoom: undefined })
  })

  it('the performers of several resources of one examination are taken together', () => {
    const result = who([by('t', 'operator-in-training')], [copy([by('s', 'supervisor-in-room'), by('t')])])
    expect(result.examination.all).toHaveLength(2)
    expect(result).toMatchObject({ operator: 'northmoor/Practitioner/t', supervisor: 'northmoor/Practitioner/s' })
  })

  it('a supervisor who is named again without a function is still no operator', () => {
    expect(who([by('s', 'supervisor-in-room')], [copy([by('s')])]).operator).toBeUndefined()
  })

  it('nobody supervises themselves', () => {
    const result = who([by('x', 'operator'), by('x', 'supervisor-in-room')])
    expect(result).toMatchObject({ operator: 'northmoor/Practitioner/x', supervisor: undefined })
    expect(result.supervisorInRoom).toBeUndefined()
  })

  it('a lone performer of a function that nobody knows may be a nurse: unattributed, and listed', () => {
    // 415506007 is SNOMED CT's scrub nurse.
    for (const stated of [
      { coding: [{ system: 'http://snomed.info/sct', code: '415506007' }] },
      { coding: [{ system: 'urn:oid:2.999.3', code: 'ENDO' }] },
    ]) {
      const result = who([{ actor: person('x'), function: stated }])
      expect(result.operator).toBeUndefined()
      expect(doubtsOf(result)).toEqual(['performer whose function nobody knows'])
      expect([...result.survey.unmatched.values()]).toMatchObject([
        { where: 'Procedure.performer.function', code: stated.coding[0]?.code },
      ])
    }
    expect(who([{ actor: person('x'), function: { text: 'assistant' } }]).operator).toBeUndefined()
  })

  it('a function that says nothing is none', () => {
    const nothing = { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-NullFlavor', code: 'UNK' }] }
    for (const stated of [nothing, {}, { coding: [] }, { text: ' ' }])
      expect(who([{ actor: person('x'), function: stated }]).operator).toBe('northmoor/Practitioner/x')
  })

  it('beside a function that nobody knows, one without a function is not the operator, but one who operated is', () => {
    const unknown = { actor: person('y'), function: { coding: [{ system: 'urn:oid:2.999.3', code: 'ENDO' }] } }
    expect(who([by('x'), unknown]).operator).toBeUndefined()
    expect(who([by('x', 'operator'), unknown]).operator).toBe('northmoor/Practitioner/x')
  })
})

describe('who is somebody', () => {
  it('a role leads to its person, and a role that leads to a role nowhere', () => {
    const role = (reference: string) => [{ resourceType: 'PractitionerRole', id: 'r', practitioner: { reference } }]
    const performer = [{ actor: { reference: 'PractitionerRole/r' } }]
    expect(who(performer, role('Practitioner/x')).operator).toBe('northmoor/Practitioner/x')
    expect(who(performer, role('PractitionerRole/r')).operator).toBeUndefined()
  })

  it('a role that was not read is nobody, and a reference that leads nowhere', () => {
    const { operator, survey } = who([{ actor: { reference: 'PractitionerRole/r' } }])
    expect(operator).toBeUndefined()
    expect(survey.deadEnds.get('Procedure.performer.actor')).toMatchObject({ count: 1, examples: ['Procedure/a'] })
  })

  it.each([
    ['an organisation', { reference: 'Organization/o' }],
    ['a name alone', { display: 'Dr Somebody' }],
    ['a reference to nothing inside', { reference: '#inside' }],
    ['a resource of another server', { reference: 'https://elsewhere.example/fhir/Practitioner/x' }],
  ])('%s is nobody, and listed as such', (_, actor) => {
    const result = who([{ actor, function: fact('operator') }])
    expect(result.operator).toBeUndefined()
    expect(doubtsOf(result)).toEqual(['performer who is nobody: an organisation, or a name without an identity'])
  })

  it('where a nameless person operated, the one beside without a function did not', () => {
    const result = who([{ actor: { display: 'Dr Somebody' }, function: fact('operator-in-training') }, by('nurse')])
    expect(result).toMatchObject({ operator: undefined, operatorRole: 'trainee' })
  })

  describe('inside the procedure', () => {
    const inside = (identifier: Resource[], id = 'p') => ({
      contained: [
        { resourceType: 'Practitioner', id, identifier },
        { resourceType: 'PractitionerRole', id: 'r', practitioner: { reference: `#${id}` } },
        { resourceType: 'Organization', id: 'o', identifier },
      ],
    })
    const key = [{ system, value: 'N-1' }]

    it.each(['#p', '#r'])('%s is the person of the configured identifier', (reference) => {
      expect(who([{ actor: { reference } }], [], configured, inside(key)).operator).toBe(`${system}|N-1`)
    })

    it('without that identifier, or where no system is configured, it is nobody', () => {
      const other = [{ system: 'https://other.example/id', value: 'N-1' }]
      expect(who([{ actor: { reference: '#p' } }], [], configured, inside(other)).operator).toBeUndefined()
      expect(who([{ actor: { reference: '#p' } }], [], northmoor, inside(key)).operator).toBeUndefined()
    })

    it('an organisation stays an organisation', () => {
      expect(who([{ actor: { reference: '#o' } }], [], configured, inside(key)).operator).toBeUndefined()
    })
  })

  it('two copies of one person are one by the configured identifier system', () => {
    const copies = ['x', 'y'].map((id) => ({
      resourceType: 'Practitioner',
      id,
      identifier: [
        { system, use: 'old', value: `former-${id}` },
        { system, value: 'N-1' },
      ],
    }))
    for (const id of ['x', 'y']) expect(who([by(id)], copies, configured).operator).toBe(`${system}|N-1`)
    expect(who([by('x', 'operator'), by('y', 'operator')], copies, configured).operator).toBe(`${system}|N-1`)
  })

  it('one who is named by another identifier is the practitioner who has it', () => {
    const other = { system: 'https://other.example/id', value: '7' }
    const practitioner = { resourceType: 'Practitioner', id: 'x', identifier: [other, { system, value: 'N-1' }] }
    const performer = [{ actor: { identifier: other, type: 'Practitioner' } }]
    expect(who(performer, [practitioner], configured).operator).toBe(`${system}|N-1`)
    expect(who(performer, [practitioner], northmoor).operator).toBe('northmoor/Practitioner/x')
    expect(who(performer, [], configured).operator).toBe('https://other.example/id|7')
  })
})

describe('without a performer', () => {
  it('the encounter’s only primary performer stands in', () => {
    const nurse = { type: [{ coding: [{ code: 'ATND' }] }], individual: person('nurse') }
    const result = who(undefined, [participants(primary('x'), nurse)])
    expect(result.operator).toBe('northmoor/Practitioner/x')
    expect(result.trail.evidence).toContainEqual(
      expect.objectContaining({ field: 'operator', rung: 'shared encounter', element: 'Encounter.participant' }),
    )
  })

  describe('where something else was done in the encounter', () => {
    const other = (more: Resource = {}): Resource => ({
      resourceType: 'Procedure',
      id: 'hip',
      status: 'completed',
      // SNOMED CT: total replacement of hip.
      code: { coding: [{ system: 'http://snomed.info/sct', code: '52734007' }] },
      subject: { reference: 'Patient/patient-a' },
      encounter: { reference: 'Encounter/encounter-a' },
      performedDateTime: '2026-03-01',
      ...more,
    })
    const surgeon = participants(primary('surgeon'))

    it('its participants may be of that: nobody is named, and it is listed', () => {
      const result = who(undefined, [surgeon, other()])
      expect(result.operator).toBeUndefined()
      expect(doubtsOf(result)).toContain('participants of an encounter in which something else was done too')
      expect(who(undefined, [participants({ individual: person('x') }), other()]).operator).toBeUndefined()
    })

    it.each([
      ['was a part of the examination', { partOf: [{ reference: 'Procedure/a' }] }],
      ['was not done', { status: 'not-done' }],
      ['was entered in error', { status: 'entered-in-error' }],
      ['was in another encounter', { encounter: { reference: 'Encounter/other' } }],
    ])('unless that %s', (_, more) => {
      expect(who(undefined, [surgeon, other(more)]).operator).toBe('northmoor/Practitioner/surgeon')
    })

    it('another resource of the examination is nothing else', () => {
      const second = { ...copy([]), encounter: { reference: 'Encounter/encounter-a' } }
      expect(who(undefined, [surgeon, second]).operator).toBe('northmoor/Practitioner/surgeon')
    })
  })

  it('of two primary performers neither does', () => {
    expect(who(undefined, [participants(primary('x'), primary('y'))]).operator).toBeUndefined()
  })

  it('a supervisor or an anaesthetist does not, though the encounter names them', () => {
    expect(who([by('s', 'supervisor-in-room')], [participants(primary('s'))]).operator).toBeUndefined()
    expect(who([by('a', 'anaesthetist')], [participants({ individual: person('a') })]).operator).toBeUndefined()
  })
})

describe('takeover', () => {
  const takeover = (value: string, more: Resource = {}) => said('takeover', { valueCodeableConcept: fact(value) }, more)

  it.each(['none', 'verbal', 'hands-on'])('is %s where an observation says so', (word) => {
    expect(who([by('t', 'operator-in-training')], [takeover(word)]).takeover).toBe(word)
  })

  it('is not recorded where nobody states it, or what is stated cannot be read', () => {
    expect(who([by('t', 'operator-in-training')]).takeover).toBeUndefined()
    const { takeover: read, trail } = who([by('t')], [said('takeover', { valueString: 'a bit' })])
    expect(read).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'takeover', element: 'Observation.valueString' }])
  })

  it('of two that differ the later final one stands, and the difference is listed', () => {
    const early = takeover('none', { issued: '2026-03-10T10:00:00Z' })
    const late = takeover('hands-on', { issued: '2026-03-10T12:00:00Z' })
    const draft = takeover('verbal', { status: 'preliminary', issued: '2026-03-10T13:00:00Z' })
    for (const order of [
      [early, late, draft],
      [draft, late, early],
    ]) {
      const result = who([by('t')], order)
      expect(result.takeover).toBe('hands-on')
      expect(contradictionsOf(result)).toEqual(['two different values of one measurement'])
    }
    expect(who([by('t')], [takeover('none'), takeover('hands-on')]).takeover).toBeUndefined()
  })

  it('what was issued after the as-of instant is not known yet', () => {
    const resources = [...examination({ id: 'a' }), takeover('verbal', { issued: '2026-05-01T10:00:00Z' })]
    const asOf = (date: string) => {
      const { examination: one, reading, personKey } = oneExamination(resources, northmoor, date)
      return attribute(one, reading, personKey).takeover
    }
    expect(asOf('2026-04-30')).toBeUndefined()
    expect(asOf('2026-05-01')).toBe('verbal')
  })
})

describe('an anaesthetist', () => {
  it('who performed led, and is not the operator', () => {
    expect(who([by('x'), by('a', 'anaesthetist')])).toMatchObject({
      operator: 'northmoor/Practitioner/x',
      anaesthetistLed: true,
    })
  })

  it.each([true, false])('led or did not where an observation says %s', (valueBoolean) => {
    expect(who([by('x')], [said('anaesthetist-led', { valueBoolean })]).anaesthetistLed).toBe(valueBoolean)
  })

  it('is not recorded where nothing says, or where one performed and is said not to have led', () => {
    expect(who([by('x')]).anaesthetistLed).toBeUndefined()
    const result = who([by('x'), by('a', 'anaesthetist')], [said('anaesthetist-led', { valueBoolean: false })])
    expect(result.anaesthetistLed).toBeUndefined()
    expect(contradictionsOf(result)).toEqual(['an anaesthetist performed, but did not lead'])
  })
})
