import { describe, expect, it } from 'vitest'
import { rowsOf } from '../../src/pages/rows.ts'
import { group, harbour, intubation, people } from './results.ts'

const labels = (result: typeof harbour): string[] => rowsOf(result).map(({ label }) => label)

describe('the rows', () => {
  it('begin with the unit, go on by examinations counted, and end with what has no practitioner', () => {
    expect(labels(harbour)).toEqual([
      'Harbour Unit',
      'HB-204',
      'HB-118',
      'HB-331',
      'HB-077',
      'HB-412',
      'HB-265',
      'HB-509',
      'HB-150',
      'HB-388',
      'HB-601',
      'Unattributed',
    ])
  })

  it('are not ranked by rate', () => {
    const rates = rowsOf(harbour).flatMap(({ kind, group: { score } }) => (kind === 'practitioner' ? [score ?? 0] : []))
    expect(rates).not.toEqual(rates.toSorted((one, other) => other - one))
    expect(rates).not.toEqual(rates.toSorted((one, other) => one - other))
  })

  it('list several units by name before the people, and examinations without a unit after them', () => {
    expect(labels(intubation)).toEqual([
      'All units together',
      'Harbour Unit',
      'Moor Hospital',
      'Unit unassigned',
      'MR-019',
      'HB-204',
      'MR-044',
    ])
  })

  it('put equal volumes in the order of their keys', () => {
    const practitioners = ['b', 'c', 'a'].map((key) => ({ ...group(1, 10), key: `${people}|${key}` }))
    expect(labels({ ...harbour, practitioners }).slice(1)).toEqual(['a', 'b', 'c'])
  })

  it('show a key in full where two systems share its value', () => {
    const keys = ['https://one.example|7', 'https://two.example|7', 'https://two.example|8', 'north/Practitioner/9']
    const practitioners = keys.map((key) => ({ ...group(1, 10), key }))
    expect(labels({ ...harbour, practitioners }).slice(1)).toEqual([
      'https://one.example|7',
      'https://two.example|7',
      '8',
      'north/Practitioner/9',
    ])
  })
})
