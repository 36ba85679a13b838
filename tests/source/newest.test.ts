import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Newest } from '../../src/source/newest.ts'
import type { Resource } from '../../src/source/references.ts'

const version = (id: string, versionId?: string, lastUpdated?: string): Resource => ({
  resourceType: 'Observation',
  id,
  meta: { ...(versionId && { versionId }), ...(lastUpdated && { lastUpdated }) },
})

function newestOf(resources: readonly Resource[]): Resource[] {
  const newest = new Newest()
  for (const resource of resources) newest.add(resource)
  return newest.all()
}

describe('of two versions of one resource', () => {
  it.each([
    ['the higher version, compared as a number', version('o', '10'), version('o', '9', '2026-03-02T00:00:00Z')],
    [
      'the later update where versions are equal',
      version('o', '2', '2026-03-02T00:00:00+01:00'),
      version('o', '2', '2026-03-01T22:00:00Z'),
    ],
    [
      'the later update where versions are no numbers',
      version('o', 'b1', '2026-03-02T00:00:00Z'),
      version('o', 'zz', '2026-03-01T00:00:00Z'),
    ],
    ['the one that says when', version('o', undefined, '2026-03-02T00:00:00Z'), version('o')],
  ])('keeps %s', (_, newer, older) => {
    expect(newestOf([newer, older])).toEqual([newer])
    expect(newestOf([older, newer])).toEqual([newer])
  })
})

it('gives the same resources in the same order however they arrive and however often', () => {
  const resources = ['a', 'b', 'c'].flatMap((id) => ['1', '2', '3'].map((number) => version(id, number)))
  const shuffled = fc.shuffledSubarray([...resources, ...resources], { minLength: resources.length * 2 })
  fc.assert(
    fc.property(shuffled, (order) => {
      expect(newestOf(order)).toEqual([version('a', '3'), version('b', '3'), version('c', '3')])
    }),
    { seed: 20260815, numRuns: 200 },
  )
})

it('tells which resources came with different contents, of which nothing says which is the newer', () => {
  const newest = new Newest()
  for (const value of [9, 3, 9]) newest.add({ ...version('o'), valueInteger: value })
  for (const id of ['p', 'p']) newest.add(version(id))
  expect([...newest.differing]).toEqual(['Observation/o'])
})

it('counts resources without an id, and keeps a Bundle, which need not have one', () => {
  const newest = new Newest()
  newest.add({ resourceType: 'Procedure' })
  newest.add({ resourceType: 'Bundle', type: 'collection' })
  expect(newest.withoutId).toBe(1)
  expect(newest.all()).toHaveLength(1)
})
