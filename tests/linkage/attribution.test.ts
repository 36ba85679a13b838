import { describe, expect, it } from 'vitest'
import { ask, northmoor } from '../stories/ask.ts'
import { examination, fact } from '../stories/examination.ts'

// The ladder of attribution is this service's own rule; shapes of performers are those met in open records.
const person = (id: string) => ({ reference: `Practitioner/${id}` })

/** One examination performed as told. */
function performedBy(performer: unknown, more: Record<string, unknown>[] = [], source = northmoor) {
  const resources = examination({ id: 'a' }).map((resource) =>
    resource.resourceType === 'Procedure' ? { ...resource, performer } : resource,
  )
  const [record] = ask([...resources, ...more], '2027-01-01', source).records
  return record
}

describe('who performed it', () => {
  it('a lone performer without a function is the operator', () => {
    expect(performedBy([{ actor: person('x') }])?.operator).toBe('northmoor/Practitioner/x')
  })

  it('two persons without functions are neither split nor doubled', () => {
    expect(performedBy([{ actor: person('x') }, { actor: person('y') }])?.operator).toBeUndefined()
  })

  it('functions tell trainee and supervisor apart', () => {
    const record = performedBy([
      { function: fact('supervisor-in-room'), actor: person('s') },
      { function: fact('operator-in-training'), actor: person('t') },
    ])
    expect(record).toMatchObject({
      operator: 'northmoor/Practitioner/t',
      operatorRole: 'trainee',
      supervisor: 'northmoor/Practitioner/s',
      supervisorInRoom: true,
    })
  })

  it('a role leads to its person', () => {
    const role = { resourceType: 'PractitionerRole', id: 'r', practitioner: person('x') }
    expect(performedBy([{ actor: { reference: 'PractitionerRole/r' } }], [role])?.operator).toBe(
      'northmoor/Practitioner/x',
    )
  })

  it('a role that leads to a role leads nowhere', () => {
    const role = { resourceType: 'PractitionerRole', id: 'r', practitioner: { reference: 'PractitionerRole/r' } }
    expect(performedBy([{ actor: { reference: 'PractitionerRole/r' } }], [role])?.operator).toBeUndefined()
  })

  it.each([
    ['an organisation', { reference: 'Organization/o' }],
    ['a name alone', { display: 'Dr Somebody' }],
    ['a reference to nothing known', { reference: '#inside' }],
  ])('%s is nobody', (_, actor) => {
    expect(performedBy([{ actor }])?.operator).toBeUndefined()
  })

  it('two copies of one person are one by the configured identifier system', () => {
    const system = 'https://people.northmoor.example/id'
    const copies = ['x', 'y'].map((id) => ({
      resourceType: 'Practitioner',
      id,
      identifier: [{ system, value: 'N-1' }],
    }))
    const source = { ...northmoor, practitionerSystem: system }
    for (const id of ['x', 'y'])
      expect(performedBy([{ actor: person(id) }], copies, source)?.operator).toBe(`${system}|N-1`)
  })

  it('without a performer the encounter’s only primary performer stands in', () => {
    const encounter = {
      resourceType: 'Encounter',
      id: 'encounter-a',
      status: 'finished',
      meta: { versionId: '2' },
      class: { code: 'AMB' },
      participant: [
        { type: [{ coding: [{ code: 'PPRF' }] }], individual: person('x') },
        { type: [{ coding: [{ code: 'ATND' }] }], individual: person('nurse') },
      ],
    }
    expect(performedBy(undefined, [encounter])?.operator).toBe('northmoor/Practitioner/x')
  })
})
