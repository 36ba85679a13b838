import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { drawFrom } from '../criteria/varied-records.ts'
import { ask } from '../stories/ask.ts'
import { examination, pathology, tubularAdenoma } from '../stories/examination.ts'

// Real stores hold resources of every wrong shape. Whatever is wrong with one patient's, no other patient's record changes.
type Json = Record<string, unknown>
const wanted = 100_000
const patients = 100

/** Every even patient is left alone; of every odd one each resource may be spoilt. */
const whole = Array.from({ length: patients }, (_, index) => [
  ...examination({
    id: `e${index}`,
    withdrawalMinutes: 9,
    polyps: [{ handling: 'removed', specimen: `pot-${index}`, millimetres: 6 }, { handling: 'left' }],
    history: [{ code: { coding: [{ system: 'http://snomed.info/sct', code: '64766004' }] }, recorded: '2020-01-01' }],
  }),
  ...pathology(`r${index}`, {
    issued: '2026-03-14T10:00:00Z',
    results: [{ specimen: `pot-${index}`, code: tubularAdenoma }],
  }),
  {
    resourceType: 'AdverseEvent',
    id: `v${index}`,
    actuality: 'actual',
    subject: { reference: `Patient/patient-e${index}` },
    date: '2026-03-12',
  },
])

const deep = (levels: number): unknown => (levels === 0 ? 'x' : { coding: [deep(levels - 1)], resource: deep(0) })
const junk: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1e308,
  '',
  ' ',
  'x',
  '#',
  'constructor',
  '__proto__',
  '2026-13-45',
  'Practitioner/',
  '/',
  'x'.repeat(100_000),
  [],
  {},
  [null],
  [[]],
  [{}],
  { coding: null },
  { coding: [null, 1, {}] },
  { reference: 7 },
  { reference: '#' },
  { start: [], end: {} },
  deep(200),
]

it(`${wanted.toLocaleString('en-GB')} spoilt resources never stop linkage and never change a neighbour's record`, () => {
  const draw = drawFrom(20261125)
  const even = (records: readonly Colonoscopy[]) =>
    records.filter(({ procedure }) => Number(/^Procedure\/e(\d+)$/.exec(procedure)?.[1] ?? 1) % 2 === 0)
  const untouched = even(ask(whole.flat()).records)
  expect(untouched).toHaveLength(patients / 2)

  /** Puts junk somewhere in a resource, at a depth of its own, or takes something away. */
  const spoil = (value: unknown): unknown => {
    if (typeof value !== 'object' || value === null || draw(3) === 0) return junk[draw(junk.length)]
    const entries = Object.entries(value)
    if (entries.length === 0) return junk[draw(junk.length)]
    const at = draw(entries.length)
    const changed = entries.flatMap(([name, inner], index): [string, unknown][] =>
      index !== at ? [[name, inner]] : draw(4) === 0 ? [] : [[name, spoil(inner)]],
    )
    return Array.isArray(value) ? changed.map(([, inner]) => inner) : Object.fromEntries(changed)
  }
  // The type stays, so that the resource still reaches its reader; all else may go.
  const spoilResource = (resource: Json): Json => {
    const spoilt = spoil(resource)
    return typeof spoilt === 'object' && spoilt !== null && !Array.isArray(spoilt)
      ? { ...(spoilt as Json), resourceType: resource.resourceType }
      : { resourceType: resource.resourceType, id: spoilt }
  }

  for (let spoilt = 0; spoilt < wanted; ) {
    const window = whole.flatMap((resources, index) => {
      if (index % 2 === 0) return resources
      spoilt += resources.length
      return resources.map(spoilResource)
    })
    expect(even(ask(window).records)).toEqual(untouched)
  }
})

it('whatever is delivered instead of resources, nothing is thrown', () => {
  fc.assert(
    fc.property(fc.array(fc.anything(), { maxLength: 20 }), (delivered) => {
      expect(ask(delivered).records).toEqual([])
    }),
    { seed: 20261125, numRuns: 500 },
  )
})
