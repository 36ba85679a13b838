import { describe, expect, it } from 'vitest'
import { readTimes } from '../../src/linkage/times.ts'
import { fact } from '../stories/examination.ts'
import { bareProcedure, observationOf, orders } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// What is done with times that contradict each other is a rule of this project: no source.
type Resource = Record<string, unknown>
const minutes = (value: number, more: Resource = {}): Resource => ({
  valueQuantity: { value, system: 'http://unitsofmeasure.org', code: 'min', ...more },
})
const insertion = (value: Resource, more: Resource = {}) => observationOf(fact('insertion-time'), { ...value, ...more })
const withdrawal = (value: Resource, more: Resource = {}) =>
  observationOf(fact('withdrawal-time'), { ...value, ...more })
const read = (observations: readonly Resource[], asOf?: string) => {
  const { examination, reading, trail } = oneExamination([bareProcedure(), ...observations], undefined, asOf)
  return { ...readTimes(examination, reading), trail, kinds: trail.contradictions.map(({ kind }) => kind) }
}

describe('insertion and withdrawal', () => {
  it('are read from their observations, with the element they stand in', () => {
    const one = insertion(minutes(22))
    const other = withdrawal({ valueString: '7,5 min' })
    const { insertionMinutes, withdrawalMinutes, trail } = read([one, other])
    expect([insertionMinutes, withdrawalMinutes]).toEqual([22, 7.5])
    expect(trail.evidence).toEqual([
      { field: 'insertionMinutes', resource: one, rung: 'direct reference', element: 'Observation.valueQuantity' },
      { field: 'withdrawalMinutes', resource: other, rung: 'direct reference', element: 'Observation.valueString' },
    ])
  })

  it('are read from the components of a panel', () => {
    const panel = observationOf(
      { text: 'times' },
      {
        component: [
          { code: fact('insertion-time'), ...minutes(6) },
          { code: fact('withdrawal-time'), valueQuantity: { value: 540, code: 's' } },
        ],
      },
    )
    const { insertionMinutes, withdrawalMinutes, trail } = read([panel])
    expect([insertionMinutes, withdrawalMinutes]).toEqual([6, 9])
    expect(trail.evidence.map(({ element }) => element)).toEqual([
      'Observation.component.valueQuantity',
      'Observation.component.valueQuantity',
    ])
  })

  it('are never taken from the length of the procedure', () => {
    const { insertionMinutes, withdrawalMinutes } = read([])
    expect([insertionMinutes, withdrawalMinutes]).toEqual([undefined, undefined])
  })

  it.each<[string, Resource]>([
    ['a bound', minutes(6, { comparator: '>' })],
    ['a range', { valueString: '6-8 min' }],
    ['no unit', { valueQuantity: { value: 8 } }],
    ['words', { valueString: 'quick' }],
  ])('%s is no time, and is listed', (_, value) => {
    const { withdrawalMinutes, trail } = read([withdrawal(value)])
    expect(withdrawalMinutes).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'withdrawalMinutes' }])
  })

  it('zero minutes is listed and not recorded', () => {
    const { withdrawalMinutes, kinds } = read([withdrawal(minutes(0))])
    expect(withdrawalMinutes).toBeUndefined()
    expect(kinds).toEqual(['insertion or withdrawal of zero minutes'])
  })

  it('a reason for its absence is no fault', () => {
    const { withdrawalMinutes, trail } = read([withdrawal({ dataAbsentReason: { text: 'not timed' } })])
    expect(withdrawalMinutes).toBeUndefined()
    expect(trail.unreadable).toEqual([])
  })

  it('what was issued after the as-of instant is not known yet', () => {
    const late = withdrawal(minutes(8), { issued: '2026-03-12T08:00:00+01:00' })
    expect(read([late], '2026-03-11').withdrawalMinutes).toBeUndefined()
    expect(read([late], '2026-03-12').withdrawalMinutes).toBe(8)
  })
})

describe('two withdrawal times of one examination', () => {
  it('that are one, however they are written, are one', () => {
    const { withdrawalMinutes, kinds } = read([
      withdrawal(minutes(8)),
      withdrawal({ valueQuantity: { value: 480, code: 's' } }),
    ])
    expect(withdrawalMinutes).toBe(8)
    expect(kinds).toEqual([])
  })

  it('that differ are none, in any order, and are listed', () => {
    for (const two of orders([withdrawal(minutes(8)), withdrawal(minutes(11))])) {
      const { withdrawalMinutes, kinds } = read(two)
      expect(withdrawalMinutes).toBeUndefined()
      expect(kinds).toEqual(['two different values of one measurement'])
    }
  })

  it.each<[string, Resource, Resource]>([
    [
      'a final one stands against a later preliminary one',
      { issued: '2026-03-10T10:00:00Z' },
      { issued: '2026-03-10T11:00:00Z', status: 'preliminary' },
    ],
    [
      'a later final one stands against an earlier final one',
      { issued: '2026-03-10T11:00:00Z' },
      { issued: '2026-03-10T10:00:00Z' },
    ],
    [
      'a corrected one of a later day stands',
      { effectiveDateTime: '2026-03-11', status: 'corrected' },
      { effectiveDateTime: '2026-03-10' },
    ],
  ])('%s, and both are listed', (_, standing, fallen) => {
    for (const two of orders([withdrawal(minutes(8), standing), withdrawal(minutes(11), fallen)])) {
      const { withdrawalMinutes, kinds } = read(two)
      expect(withdrawalMinutes).toBe(8)
      expect(kinds).toEqual(['two different values of one measurement'])
    }
  })

  it('of which a third of unknown date says otherwise are none', () => {
    const three = [
      withdrawal(minutes(8), { issued: '2026-03-10T11:00:00Z' }),
      withdrawal(minutes(9), { issued: '2026-03-10T10:00:00Z' }),
      withdrawal(minutes(11)),
    ]
    for (const list of orders(three)) expect(read(list).withdrawalMinutes).toBeUndefined()
  })
})

describe('parts and whole', () => {
  // The examination is written as one hour long.
  it.each([
    [40, 30, []],
    [40, 31, ['insertion and withdrawal longer than the examination']],
  ])('%i and %i minutes in an hour', (first, second, listed) => {
    const { insertionMinutes, withdrawalMinutes, kinds } = read([
      insertion(minutes(first)),
      withdrawal(minutes(second)),
    ])
    expect([insertionMinutes, withdrawalMinutes]).toEqual([first, second])
    expect(kinds).toEqual(listed)
  })
})
