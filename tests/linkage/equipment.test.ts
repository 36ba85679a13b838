import { describe, expect, it } from 'vitest'
import { devicesUsed } from '../../src/linkage/devices.ts'
import { readEquipment } from '../../src/linkage/equipment.ts'
import { fact } from '../stories/examination.ts'
import { bareProcedure, observationOf } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// FHIR R4: Procedure.usedCode and usedReference say what was used, and not when. What follows from that is a rule of ours.
type Resource = Record<string, unknown>
const device = (id: string, type: Resource) => ({ resourceType: 'Device', id, type })
const read = (procedure: Resource, ...more: Resource[]) => {
  const { examination, reading, trail, survey } = oneExamination([bareProcedure(procedure), ...more])
  return { facts: readEquipment(examination, devicesUsed(examination, reading), reading), trail, survey }
}
const answered = (code: string, value: Resource) => observationOf(fact(code), value)

describe('the colonoscope', () => {
  it.each<[string, Resource, Resource[]]>([
    ['a used code', { usedCode: [fact('paediatric-colonoscope')] }, []],
    [
      'the type of a used device',
      { usedReference: [{ reference: 'Device/d' }] },
      [device('d', fact('paediatric-colonoscope'))],
    ],
  ])('by %s', (_, procedure, more) => {
    const { facts, trail } = read(procedure, ...more)
    expect(facts.instrument).toBe('paediatric')
    expect(facts.instrumentExchanged).toBeUndefined()
    expect(trail.evidence).toMatchObject([{ field: 'instrument', rung: 'own element' }])
  })

  it('two kinds used: exchanged, and nobody says with which it began', () => {
    const { facts } = read({ usedCode: [fact('adult-colonoscope'), fact('paediatric-colonoscope')] })
    expect(facts.instrumentExchanged).toBe(true)
    expect(facts.instrument).toBeUndefined()
  })

  it('a stated exchange of which one kind is named leaves open whether that was the first', () => {
    const { facts } = read(
      { usedCode: [fact('adult-colonoscope')] },
      answered('instrument-exchanged', { valueBoolean: true }),
    )
    expect(facts.instrumentExchanged).toBe(true)
    expect(facts.instrument).toBeUndefined()
  })

  it('said not to have been exchanged, with two kinds used, is a contradiction', () => {
    const { facts, trail } = read(
      { usedCode: [fact('adult-colonoscope'), fact('paediatric-colonoscope')] },
      answered('instrument-exchanged', { valueBoolean: false }),
    )
    expect(facts.instrumentExchanged).toBeUndefined()
    expect(facts.instrument).toBeUndefined()
    expect(trail.contradictions).toMatchObject([{ kind: 'two different values of one measurement' }])
  })

  it('a device that is not there, and a type nobody knows, are listed', () => {
    const { facts, survey } = read(
      { usedReference: [{ reference: 'Device/gone' }, { reference: 'Device/odd' }] },
      device('odd', { text: 'thin scope' }),
    )
    expect(facts.instrument).toBeUndefined()
    expect([...survey.deadEnds.values()]).toMatchObject([
      { element: 'Procedure.usedReference', examples: ['Procedure/p'] },
    ])
    expect([...survey.unmatched.values()]).toMatchObject([{ where: 'Device.type', words: 'thin scope' }])
  })

  it('a drug or a substance that was used is no device and no fault', () => {
    const { survey } = read({ usedReference: [{ reference: 'Substance/s' }] })
    expect(survey.deadEnds.size + survey.unmatched.size).toBe(0)
  })
})

describe('insufflation and aids', () => {
  it.each(['air', 'carbon-dioxide', 'water'])('%s', (gas) => {
    expect(read({}, answered('insufflation', { valueCodeableConcept: fact(gas) })).facts.insufflation).toBe(gas)
  })

  it('two different ones are none', () => {
    const two = ['air', 'water'].map((gas) => answered('insufflation', { valueCodeableConcept: fact(gas) }))
    expect(read({}, ...two).facts.insufflation).toBeUndefined()
  })

  it.each(['dye', 'computer-aided-detection'] as const)('%s: yes, no, a code for either, used, or not told', (aid) => {
    const field = aid === 'dye' ? 'dye' : 'computerAidedDetection'
    expect(read({}, answered(aid, { valueBoolean: true })).facts[field]).toBe(true)
    expect(read({}, answered(aid, { valueBoolean: false })).facts[field]).toBe(false)
    expect(read({}, answered(aid, { valueCodeableConcept: fact('no') })).facts[field]).toBe(false)
    expect(read({ usedCode: [fact(aid)] }).facts[field]).toBe(true)
    expect(read({}).facts[field]).toBeUndefined()
  })

  it('used, and said not to have been, is neither', () => {
    const { facts, trail } = read({ usedCode: [fact('dye')] }, answered('dye', { valueBoolean: false }))
    expect(facts.dye).toBeUndefined()
    expect(trail.contradictions).toHaveLength(1)
  })

  it('an answer in words is unreadable', () => {
    const { facts, trail } = read({}, answered('dye', { valueString: 'indigo' }))
    expect(facts.dye).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'dye', element: 'Observation.valueString' }])
  })
})
