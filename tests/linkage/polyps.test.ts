import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { polypSize } from '../../src/linkage/polyp-size.ts'
import { ask } from '../stories/ask.ts'
import {
  amount,
  examination,
  fact,
  type PolypFacts,
  quantity,
  type Resource,
  type Said,
  snomed,
  whole,
  word,
  yesNo,
} from '../stories/examination.ts'

// Elements and their meaning: FHIR R4, Observation, Procedure, Condition, Quantity.comparator. How several statements on one
// polyp are joined: common practice, no source.
const only = (polyp: PolypFacts, ...more: Resource[]) => {
  const story = ask([...examination({ id: 'a', polyps: [polyp] }), ...more])
  return { ...story.only().polyps?.[0], story }
}
const size = (value: Resource): Said => ({ code: fact('polyp-size'), ...value })
const procedure = (id: string, code: Resource, more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code,
  partOf: [{ reference: 'Procedure/a' }],
  ...more,
})
/** The first polyp of `examination`, after eight observations of the course. */
const firstPolyp = (story: Resource[]) =>
  story.find(({ resourceType, component }) => resourceType === 'Observation' && component !== undefined) as Resource
const keyOf = ({ resourceType, id }: Resource) => `${resourceType}/${id}`

describe('the size of a polyp', () => {
  it.each([
    ['6 mm', { valueQuantity: quantity(6, 'mm') }, [6, 6, 6]],
    ['0.6 cm', { valueQuantity: quantity(0.6, 'cm') }, [6, 6, 6]],
    ['<5 mm', { valueQuantity: { ...quantity(5, 'mm'), comparator: '<' } }, [undefined, undefined, 5]],
    ['>10 mm', { valueQuantity: { ...quantity(10, 'mm'), comparator: '>' } }, [undefined, 10, undefined]],
    ['5 to 7 mm', { valueRange: { low: quantity(5, 'mm'), high: quantity(7, 'mm') } }, [undefined, 5, 7]],
  ])('%s is read as a size, or as a bound of one', (_, value, [exact, least, most]) => {
    const polyp = only({ said: [size(value)] })
    expect([polyp.sizeMillimetres, polyp.sizeAtLeastMillimetres, polyp.sizeAtMostMillimetres]).toEqual([
      exact,
      least,
      most,
    ])
  })

  it('in words that nobody can read is none, and is listed', () => {
    const { sizeMillimetres, story } = only({ said: [size({ valueString: 'smallish' })] })
    expect(sizeMillimetres).toBeUndefined()
    expect(story.takenDown().unreadable).toContain('polyps')
  })

  it('stated twice and differently is none; its bounds hold both, and the contradiction is listed', () => {
    const { story, ...polyp } = only({ said: [amount('polyp-size', 4, 'mm'), amount('polyp-size', 9, 'mm')] })
    expect(polyp).toMatchObject({ sizeMillimetres: undefined, sizeAtLeastMillimetres: 4, sizeAtMostMillimetres: 9 })
    expect(story.takenDown().contradictions).toEqual(['two different values of one measurement'])
  })

  it('stated twice alike, in two units, is one', () => {
    const { story, ...polyp } = only({ said: [amount('polyp-size', 6, 'mm'), amount('polyp-size', 0.6, 'cm')] })
    expect(polyp.sizeMillimetres).toBe(6)
    expect(story.takenDown().contradictions).toEqual([])
  })

  it('in an observation that the polyp has as a member is that polyp’s', () => {
    const story = examination({ id: 'a', polyps: [{ site: 'caecum' }, { site: 'rectum' }] })
    const polyp = firstPolyp(story)
    const told = { resourceType: 'Observation', id: 'size', status: 'final', partOf: [{ reference: 'Procedure/a' }] }
    const resources = [
      ...story.map((one) => (one === polyp ? { ...one, hasMember: [{ reference: 'Observation/size' }] } : one)),
      { ...told, ...amount('polyp-size', 7, 'mm') },
    ]
    expect(ask(resources).only().polyps).toMatchObject([
      { site: 'caecum', sizeMillimetres: 7 },
      { site: 'rectum', sizeMillimetres: undefined },
    ])
  })

  it('does not depend on the order of the statements, and no bound excludes a size that stands', () => {
    const millimetres = fc.integer({ min: 1, max: 9 })
    const bound = fc.record({ atLeast: millimetres, atMost: millimetres }, { requiredKeys: [] })
    fc.assert(
      fc.property(fc.array(fc.oneof(millimetres, bound), { maxLength: 4 }), (stated) => {
        const size = polypSize(stated)
        expect(polypSize([...stated].reverse())).toEqual(size)
        if (size.exact !== undefined) expect([size.atLeast, size.atMost]).toEqual([size.exact, size.exact])
      }),
      { seed: 20261125, numRuns: 500 },
    )
  })
})

describe('what is said of one polyp', () => {
  it('twice and differently does not stand, whichever came first', () => {
    const words = [word('polyp-shape', 'flat'), word('polyp-shape', 'sessile')]
    for (const said of [words, [...words].reverse()]) {
      const { shape, story } = only({ said })
      expect(shape).toBeUndefined()
      expect(story.takenDown().contradictions).toEqual(['two different values of one measurement'])
    }
  })

  it('in a code that nobody knows is not recorded, and is listed', () => {
    const { shape, story } = only({ said: [{ code: fact('polyp-shape'), valueCodeableConcept: snomed('1') }] })
    expect(shape).toBeUndefined()
    expect(story.takenDown().unmatched).toContainEqual(expect.objectContaining({ code: '1' }))
  })

  it('a polyp without a site lay where its specimen was taken', () => {
    const story = examination({ id: 'a', polyps: [{ specimen: 'pot' }] }).map((one) =>
      one.resourceType === 'Specimen' ? { ...one, collection: { bodySite: fact('sigmoid') } } : one,
    )
    expect(ask(story).only().polyps?.[0]?.site).toBe('sigmoid')
  })

  it('not found again is neither left on purpose nor able to have histology', () => {
    const polyps: PolypFacts[] = [{ handling: 'left' }, { handling: 'not-found-again' }, { handling: 'removed' }]
    expect(ask(examination({ id: 'a', polyps })).only()).toMatchObject({
      polypsLeftCount: 1,
      polypsNotFoundAgainCount: 1,
      polypsWithoutObtainableHistology: 2,
    })
    const open = ask(examination({ id: 'a', polyps: [...polyps, {}] })).only()
    expect([open.polypsLeftCount, open.polypsNotFoundAgainCount]).toEqual([undefined, undefined])
  })

  it('issued after the as-of instant is not known yet', () => {
    const story = examination({ id: 'a', polyps: [{}] })
    const polyp = firstPolyp(story)
    const late = story.map((one) => (one === polyp ? { ...one, issued: '2026-03-20T09:00:00Z' } : one))
    expect(ask(late, '2026-03-15').only().polypCount).toBe(0)
    expect(ask(late, '2026-03-21').only().polypCount).toBe(1)
  })
})

describe('how many polyps there are', () => {
  const told = (id: string, value: Resource): Resource => ({
    resourceType: 'Observation',
    id,
    status: 'final',
    partOf: [{ reference: 'Procedure/a' }],
    code: snomed('399505005'),
    ...value,
  })

  it.each([
    ['an observation that says three', [whole('polyp', 3)], 3],
    ['an observation that says none', [whole('polyp', 0)], 0],
    ['an observation that says no', [yesNo('polyp', false)], 0],
    ['an observation that says yes', [yesNo('polyp', true)], 1],
    ['numbers by segment', [whole('polyp', 2), whole('polyp', 1)], 3],
  ])('%s', (_, values, count) => {
    const story = ask([...examination({ id: 'a' }), ...values.map((value, index) => told(`n${index}`, value))])
    expect(story.only().polypCount).toBe(count)
  })

  it('a number beside polyps told one by one is their total', () => {
    const story = [...examination({ id: 'a', polyps: [{}, {}] }), told('n', whole('polyp', 3))]
    expect(ask(story).only().polypCount).toBe(3)
    expect(ask(story).takenDown().contradictions).toEqual(['two different values of one measurement'])
    const same = [...examination({ id: 'a', polyps: [{}, {}] }), told('n', whole('polyp', 2))]
    expect(ask(same).only().polypCount).toBe(2)
    expect(ask(same).takenDown().contradictions).toEqual([])
  })

  it('a diagnosis beside observed polyps sums them up and is no further one', () => {
    const condition = {
      resourceType: 'Condition',
      id: 'diagnosis',
      code: snomed('68496003'),
      subject: { reference: 'Patient/patient-a' },
      encounter: { reference: 'Encounter/encounter-a' },
    }
    const beside = ask([...examination({ id: 'a', polyps: [{}] }), condition])
    expect(beside.only().polypCount).toBe(1)
    expect(beside.takenDown().doubts).toEqual(['polyp told as a condition beside observed polyps'])
    expect(ask([...examination({ id: 'a' }), condition]).only().polypCount).toBe(1)
    const known: PolypFacts = { said: [yesNo('known-lesion-seen-again', true)] }
    const story = examination({ id: 'a', polyps: [known] })
    const detail = { ...condition, evidence: [{ detail: [{ reference: keyOf(firstPolyp(story)) }] }] }
    expect(ask([...story, detail]).only()).toMatchObject({ polypCount: 0, knownLesionCount: 1 })
    expect(ask([...story, condition]).only()).toMatchObject({ polypCount: 1, knownLesionCount: 1 })
  })
})

describe('a polypectomy or tattoo that names a polyp', () => {
  const story = examination({ id: 'a', polyps: [{ site: 'caecum' }, { site: 'rectum', handling: 'left' }] })
  const reasonReference = [{ reference: keyOf(firstPolyp(story)) }]
  const cpt = (code: string) => ({ coding: [{ system: 'http://www.ama-assn.org/go/cpt', code }] })

  it('says with what it was taken: CPT 45390 is a mucosal resection', () => {
    expect(ask([...story, procedure('c', cpt('45390'), { reasonReference })]).only().polyps).toMatchObject([
      { handling: 'removed', tool: 'mucosal-resection' },
      { handling: 'left', tool: undefined },
    ])
  })

  it('leaves the tool open where two of them used two', () => {
    const both = [
      procedure('c1', cpt('45390'), { reasonReference }),
      procedure('c2', cpt('45384'), { reasonReference }),
    ]
    expect(ask([...story, ...both]).only().polyps?.[0]?.tool).toBeUndefined()
    expect(ask([...story, both[0] as Resource, { ...both[0], id: 'c3' }]).only().polyps?.[0]?.tool).toBe(
      'mucosal-resection',
    )
  })

  it('may name its device; the polyp’s own component goes before it', () => {
    const snare = procedure('c', snomed('274025005'), { usedCode: [fact('cold-snare')] })
    expect(only({}, snare).tool).toBe('cold-snare')
    expect(only({ said: [word('polyp-tool', 'hot-snare')] }, snare).tool).toBe('hot-snare')
  })

  it('marks the polyp that was tattooed', () => {
    const { polyps, tattooPlaced } = ask([...story, procedure('t', fact('tattoo'), { reasonReference })]).only()
    expect(polyps?.map(({ tattooed }) => tattooed)).toEqual([true, undefined])
    expect(tattooPlaced).toBe(true)
  })
})

describe('whether a tattoo was placed', () => {
  const asked = (...said: Said[]) => ask(examination({ id: 'a', polyps: [{ said }] })).only().tattooPlaced

  it('is no where every polyp says so or none was found, and open where a polyp is silent', () => {
    expect(asked(yesNo('polyp-tattooed', false))).toBe(false)
    expect(asked(yesNo('polyp-tattooed', true))).toBe(true)
    expect(asked()).toBeUndefined()
    expect(ask(examination({ id: 'a' })).only().tattooPlaced).toBe(false)
    expect(ask(examination({ id: 'a', report: 'preliminary' })).only().tattooPlaced).toBeUndefined()
  })
})
