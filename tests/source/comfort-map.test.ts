import { describe, expect, it } from 'vitest'
import { sourceList } from '../../src/source/source-schema.ts'

// Modified Gloucester scale: 1 to 5, higher is worse (Eur J Gastroenterol Hepatol 2015;27:741); scales from 0 to 4 run the same way.
const read = (comfortMap: unknown) =>
  sourceList.safeParse([
    { id: 'northmoor', baseUrl: 'https://fhir.northmoor.example', zone: 'Europe/London', comfortMap },
  ])
const faults = (comfortMap: unknown) =>
  read(comfortMap).error?.issues.map(({ path, message }) => `${path.join('.')}: ${message}`)

describe('the map of comfort scores in a source', () => {
  it('may leave out scores that have no counterpart', () => {
    const map = { '0': 1, '1': 2, '2': 3, '3': 4 }
    expect(read(map).data?.[0]?.comfortMap).toEqual(map)
  })

  it.each<[string, unknown, string]>([
    ['a score that the scale does not have', { '5': 5 }, '0.comfortMap: Unrecognized key: "5"'],
    ['a target beyond the other scale', { '0': 0 }, '0.comfortMap.0: must be from 1 to 5'],
    ['half a point', { '0': 1.5 }, '0.comfortMap.0: must be a whole number'],
    [
      'worse mapped to better',
      { '0': 5, '4': 1 },
      '0.comfortMap: must not map a worse score to a better one: higher is worse on both',
    ],
  ])('is refused with %s', (_, map, fault) => {
    expect(faults(map)).toContain(fault)
  })
})
