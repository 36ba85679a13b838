import { describe, expect, it } from 'vitest'
import { readComfort } from '../../src/linkage/comfort.ts'
import { fact } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { bareProcedure, observationOf, orders } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// Modified Gloucester comfort scale: 1 to 5, higher is worse (Eur J Gastroenterol Hepatol 2015;27:741). Whose score is taken
// where several people scored is a rule of this project: common practice, no source.
type Resource = Record<string, unknown>
const scored = (scale: 'one-to-five' | 'zero-to-four', value: unknown, more: Resource = {}) =>
  observationOf(fact(`comfort-${scale}`), { valueInteger: value, ...more })
const by = (scorer: string) => ({ component: [{ code: fact('comfort-scorer'), valueCodeableConcept: fact(scorer) }] })
const performer = (reference: string) => ({ performer: [{ reference }] })
const operator = 'northmoor/Practitioner/operator-1'
const read = (observations: readonly Resource[], comfortMap?: Record<string, number>) => {
  const source = comfortMap === undefined ? northmoor : { ...northmoor, comfortMap }
  const { examination, reading, trail, survey, personKey } = oneExamination([bareProcedure(), ...observations], source)
  return { facts: readComfort(examination, reading, operator, personKey), trail, survey }
}

describe('a comfort score', () => {
  it('from 1 to 5 is what it says on that scale', () => {
    expect(read([scored('one-to-five', 4)]).facts).toEqual({
      comfortScale: 'one-to-five',
      comfortScore: 4,
      comfortScorer: undefined,
      comfortOneToFive: 4,
    })
  })

  it('from 0 to 4 stays apart without a declared map', () => {
    const { facts } = read([scored('zero-to-four', 4)])
    expect(facts).toMatchObject({ comfortScale: 'zero-to-four', comfortScore: 4 })
    expect(facts.comfortOneToFive).toBeUndefined()
  })

  it('from 0 to 4 becomes one from 1 to 5 by the declared map, and stays apart where that has no entry', () => {
    const map = { '0': 1, '1': 2, '2': 3, '3': 4 }
    expect(read([scored('zero-to-four', 3)], map).facts.comfortOneToFive).toBe(4)
    expect(read([scored('zero-to-four', 4)], map).facts.comfortOneToFive).toBeUndefined()
    expect(read([scored('one-to-five', 3)], map).facts.comfortOneToFive).toBe(3)
  })

  it.each<['one-to-five' | 'zero-to-four', number]>([
    ['one-to-five', 0],
    ['one-to-five', 6],
    ['zero-to-four', 5],
    ['zero-to-four', -1],
  ])('%s: %i lies outside it, is listed and not recorded', (scale, value) => {
    const { facts, trail } = read([scored(scale, value)])
    expect(facts.comfortScore).toBeUndefined()
    expect(facts.comfortScale).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'comfortScore' }])
    expect(trail.doubts).toMatchObject([{ kind: 'score outside its scale' }])
  })

  it('is read in a component of the same code, and what else stands there is listed', () => {
    const { facts, survey } = read([
      observationOf(fact('comfort-one-to-five'), {
        component: [
          { code: fact('comfort-one-to-five'), valueInteger: 4 },
          { code: fact('comfort-scorer'), valueCodeableConcept: fact('nurse') },
          { code: { text: 'mood' }, valueInteger: 1 },
        ],
      }),
    ])
    expect(facts).toMatchObject({ comfortScore: 4, comfortScorer: 'nurse', comfortOneToFive: 4 })
    expect([...survey.unmatched.values()]).toMatchObject([{ words: 'mood', count: 1 }])
  })

  it('that stands in the value and in a component is one score, and two different ones are none', () => {
    const twice = (value: number) =>
      read([scored('one-to-five', 4, { component: [{ code: fact('comfort-one-to-five'), valueInteger: value }] })])
    expect(twice(4).facts.comfortScore).toBe(4)
    expect(twice(3).facts.comfortScore).toBeUndefined()
    expect(twice(3).trail.contradictions).toMatchObject([{ kind: 'two different values of one measurement' }])
  })

  it('in words is unreadable', () => {
    const { facts, trail } = read([observationOf(fact('comfort-one-to-five'), { valueString: 'mild' })])
    expect(facts.comfortScore).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'comfortScore', element: 'Observation.valueString' }])
  })
})

describe('who scored comfort', () => {
  it.each<[string, Resource, string | undefined]>([
    ['a component', by('nurse'), 'nurse'],
    ['a component before the performer', { ...by('nurse'), ...performer('Patient/a') }, 'nurse'],
    ['the performer who is the patient', performer('Patient/a'), 'patient'],
    ['the performer who is the operator', performer('Practitioner/operator-1'), 'endoscopist'],
    ['another performer, who may be anybody', performer('Practitioner/someone'), undefined],
  ])('%s', (_, more, scorer) => {
    expect(read([scored('one-to-five', 2, more)]).facts.comfortScorer).toBe(scorer)
  })

  it('an observation of its own speaks for the only score without a scorer', () => {
    const alone = observationOf(fact('comfort-scorer'), { valueCodeableConcept: fact('nurse') })
    expect(read([alone, scored('one-to-five', 2)]).facts).toMatchObject({ comfortScore: 2, comfortScorer: 'nurse' })
    const patient = scored('one-to-five', 4, by('patient'))
    expect(read([alone, scored('one-to-five', 2), patient]).facts).toMatchObject({
      comfortScore: 4,
      comfortScorer: 'patient',
    })
  })

  it('an observation of its own is listed where it may speak for several scores, or for none', () => {
    const alone = observationOf(fact('comfort-scorer'), { valueCodeableConcept: fact('nurse') })
    for (const scores of [
      [],
      [scored('one-to-five', 2), scored('one-to-five', 2)],
      [scored('one-to-five', 2, by('patient'))],
    ]) {
      const { facts, trail } = read([alone, ...scores])
      expect(facts.comfortScorer).not.toBe('nurse')
      expect(trail.unreadable).toMatchObject([{ field: 'comfortScorer', resource: alone }])
    }
  })

  it('a panel’s scorer is its own score’s, and no other’s', () => {
    const panel = observationOf(
      { text: 'comfort' },
      {
        component: [
          { code: fact('comfort-one-to-five'), valueInteger: 3 },
          { code: fact('comfort-scorer'), valueCodeableConcept: fact('nurse') },
        ],
      },
    )
    const { facts, trail } = read([panel, scored('one-to-five', 5)])
    expect(facts).toMatchObject({ comfortScore: 3, comfortScorer: 'nurse' })
    expect(trail.unreadable).toEqual([])
  })

  it('a scorer nobody knows is listed, and the score stands', () => {
    const { facts, trail } = read([scored('one-to-five', 2, by('cuff'))])
    expect(facts).toMatchObject({ comfortScore: 2 })
    expect(facts.comfortScorer).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'comfortScorer' }])
  })

  it('of several the patient’s own score is taken, then the nurse’s, then the endoscopist’s, in any order', () => {
    const endoscopist = scored('one-to-five', 1, by('endoscopist'))
    const nurse = scored('one-to-five', 3, by('nurse'))
    const patient = scored('one-to-five', 4, by('patient'))
    const unnamed = scored('one-to-five', 5)
    for (const all of orders([unnamed, endoscopist, nurse, patient]))
      expect(read(all).facts).toMatchObject({ comfortScore: 4, comfortScorer: 'patient' })
    for (const all of orders([unnamed, endoscopist, nurse]))
      expect(read(all).facts).toMatchObject({ comfortScore: 3, comfortScorer: 'nurse' })
    for (const all of orders([unnamed, endoscopist]))
      expect(read(all).facts).toMatchObject({ comfortScore: 1, comfortScorer: 'endoscopist' })
    expect(read([nurse, patient]).trail.contradictions).toEqual([])
  })

  it('two different scores of one person are none, and are listed', () => {
    for (const two of orders([scored('one-to-five', 1, by('nurse')), scored('one-to-five', 3, by('nurse'))])) {
      const { facts, trail } = read(two)
      expect(facts).toEqual({
        comfortScale: undefined,
        comfortScore: undefined,
        comfortScorer: undefined,
        comfortOneToFive: undefined,
      })
      expect(trail.contradictions).toMatchObject([{ kind: 'two different values of one measurement' }])
    }
  })

  it('of one person’s scores on both scales the one from 1 to 5 is taken', () => {
    for (const two of orders([scored('zero-to-four', 2, by('nurse')), scored('one-to-five', 3, by('nurse'))]))
      expect(read(two).facts).toMatchObject({ comfortScale: 'one-to-five', comfortScore: 3, comfortOneToFive: 3 })
  })
})
