import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { NewestVersion, stableText } from '../../src/fhir/newest-version.ts'

// Meta.versionId and Meta.lastUpdated as FHIR R4 defines them; what is done without them is this service's own rule.
const observation = (value: number, meta?: object) => ({
  resourceType: 'Observation',
  id: 'o',
  valueInteger: value,
  ...(meta && { meta }),
})

function newestOf(resources: readonly ReturnType<typeof observation>[]) {
  const newest = new NewestVersion()
  for (const resource of resources) newest.add('o', resource)
  return { value: newest.byKey.get('o')?.valueInteger, differs: newest.differing.has('o') }
}

describe('of several contents of one resource', () => {
  it('one is read whatever their order, and that they differ is remembered where nothing tells which is newer', () => {
    const [nine, three] = [observation(9), observation(3)]
    expect(newestOf([nine, three])).toEqual(newestOf([three, nine]))
    expect(newestOf([nine, three]).differs).toBe(true)
    expect(newestOf([nine, observation(9)])).toEqual({ value: 9, differs: false })
  })

  it('a newer one settles it', () => {
    const settled = { value: 5, differs: false }
    const newer = observation(5, { versionId: '2' })
    const older = [observation(9, { versionId: '1' }), observation(3, { versionId: '1' })]
    expect(newestOf([...older, newer])).toEqual(settled)
    expect(newestOf([newer, ...older])).toEqual(settled)
  })

  it('the order of delivery never decides, whatever they say of version and time', () => {
    const meta = fc.record(
      {
        versionId: fc.constantFrom('1', '2', 'x'),
        lastUpdated: fc.constantFrom('2026-03-01T00:00:00Z', '2026-03-02T00:00:00Z'),
      },
      { requiredKeys: [] },
    )
    const list = fc.array(fc.tuple(fc.nat(3), fc.option(meta, { nil: undefined })), { minLength: 2, maxLength: 6 })
    const orders = list.chain((some) => {
      const all = some.map(([value, said]) => observation(value, said))
      return fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length }))
    })
    fc.assert(
      fc.property(orders, ([one, other]) => {
        expect(newestOf([...other, ...other])).toEqual(newestOf(one))
      }),
      { seed: 20261128, numRuns: 300 },
    )
  })
})

it('a text is the same however the elements of an object are ordered, and another where a list is', () => {
  expect(stableText({ b: [{ d: 1, c: 2 }], a: null })).toBe(stableText({ a: null, b: [{ c: 2, d: 1 }] }))
  expect(stableText([1, 2])).not.toBe(stableText([2, 1]))
})
