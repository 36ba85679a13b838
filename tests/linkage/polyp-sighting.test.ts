import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, quantity, type Resource, snomed, whole, word } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// Observation.value[x], dataAbsentReason, identifier and status: FHIR R4. Codes for yes and no, absent and present: SNOMED CT.
const absent = { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code: 'unknown' }] }
const told = (id: string, value: Resource): Resource => ({
  resourceType: 'Observation',
  id,
  status: 'final',
  partOf: [{ reference: 'Procedure/a' }],
  code: snomed('399505005'),
  ...value,
})
const asked = (...values: Resource[]) =>
  ask([...examination({ id: 'a' }), ...values.map((value, index) => told(`polyp-${index}`, value))])

describe('an observation of a polyp', () => {
  it.each([
    ['our code for no', { valueCodeableConcept: fact('no') }],
    ['"no"', { valueCodeableConcept: snomed('373067005') }],
    ['"absent"', { valueCodeableConcept: snomed('2667000') }],
    ['a quantity of none', { valueQuantity: quantity(0, '1') }],
  ])('that says %s is no polyp', (_, value) => {
    expect(asked(value).only()).toMatchObject({ polypCount: 0, adenomaFound: false })
    const silent = { ...northmoor, completeFeeds: [] }
    expect(ask([...examination({ id: 'a' }), told('n', value)], '2027-01-01', silent).only().polypCount).toBeUndefined()
  })

  it.each([
    ['our code for yes', { valueCodeableConcept: fact('yes') }, 1],
    ['"present"', { valueCodeableConcept: snomed('52101004') }, 1],
    ['that it is a polyp of the colon', { valueCodeableConcept: snomed('68496003') }, 1],
    ['its shape', { valueCodeableConcept: fact('sessile') }, 1],
    ['its size', { valueQuantity: quantity(6, 'mm') }, 1],
    ['its size in a unit of words', { valueQuantity: { value: 6, unit: 'mm' } }, 1],
    ['its size in words', { valueString: '6 mm' }, 1],
    ['three, as a quantity of polyps', { valueQuantity: quantity(3, '{polyps}') }, 3],
    ['three, as a quantity without a unit', { valueQuantity: { value: 3 } }, 3],
    ['three, as a text of digits', { valueString: '3' }, 3],
  ])('that says %s counts so many', (_, value, count) => {
    expect(asked(value).only().polypCount).toBe(count)
  })

  it.each([
    ['in words', { valueString: 'multiple' }],
    ['in a code of its own', { valueCodeableConcept: { coding: [{ system: 'http://site.example', code: 'P9' }] } }],
    ['in a unit that nobody knows', { valueQuantity: { value: 6, unit: 'dots' } }],
    ['with half of a unit', { valueQuantity: { value: 6, system: 'http://unitsofmeasure.org' } }],
    ['with half a polyp', { valueQuantity: { value: 2.5 } }],
    ['with "more than five"', { valueQuantity: { value: 5, comparator: '>' } }],
    ['with normal tissue', { valueCodeableConcept: snomed('30389008') }],
    ['with the reason why it is not known', { dataAbsentReason: absent }],
  ])('that says %s what nobody can read is neither a polyp nor none, and is listed', (_, value) => {
    const story = asked(value)
    expect(story.only()).toMatchObject({
      polypCount: undefined,
      adenomaFound: undefined,
      adenomaCountUpper: undefined,
      tissueTakenOrTreated: undefined,
      polypRemoved: undefined,
    })
    expect(story.takenDown().unreadable).toContain('polypCount')
    const beside = asked(value, {})
    expect(beside.only()).toMatchObject({ polypCount: undefined, adenomaFound: undefined })
  })

  it('that describes a polyp is one, whatever its value', () => {
    const component = [word('polyp-handling', 'removed')]
    for (const value of [{ valueString: 'flat, 4 o’clock' }, { dataAbsentReason: absent }])
      expect(asked({ ...value, component }).only().polypCount).toBe(1)
  })
})

describe('one thing written down twice', () => {
  const same = { identifier: [{ system: 'urn:polyps', value: '1' }] }
  const draft = { status: 'preliminary' }

  it('is one polyp where the identifier is the same, as the final statement has it', () => {
    const story = asked({ ...same, ...draft, bodySite: fact('rectum') }, { ...same, bodySite: fact('caecum') })
    expect(story.only().polyps).toMatchObject([{ site: 'caecum' }])
    expect(story.inAnotherOrder()).toEqual(story.records)
    expect(asked({ ...same }, { identifier: [{ system: 'urn:other', value: '1' }] }).only().polypCount).toBe(2)
  })

  it('with the accession number of the examination is not', () => {
    const procedure = same
    const story = [...examination({ id: 'a', procedure }), told('p', same), told('q', same)]
    expect(ask(story).only().polypCount).toBe(2)
  })

  it('is one number where the first was a draft', () => {
    expect(asked({ ...whole('polyp', 3), ...draft }, whole('polyp', 3)).only().polypCount).toBe(3)
    const differing = asked({ ...whole('polyp', 4), ...draft }, whole('polyp', 3))
    expect(differing.only().polypCount).toBe(3)
    expect(differing.takenDown().contradictions).toEqual(['two different values of one measurement'])
    const [left, right] = [{ bodySite: fact('sigmoid') }, { bodySite: fact('caecum') }]
    expect(
      asked({ ...whole('polyp', 2), ...draft, ...left }, { ...whole('polyp', 1), ...right }).only().polypCount,
    ).toBe(3)
  })

  it('is one polypectomy, reported and billed', () => {
    const cut = (id: string, code: Resource, more: Resource = {}): Resource => ({
      resourceType: 'Procedure',
      id,
      status: 'completed',
      code,
      partOf: [{ reference: 'Procedure/a' }],
      ...more,
    })
    const cpt = { coding: [{ system: 'http://www.ama-assn.org/go/cpt', code: '45385' }] }
    const one = examination({ id: 'a', polyps: [{ handling: 'removed' }] })
    const act = { identifier: [{ system: 'urn:acts', value: '7' }] }
    const twice = ask([...one, cut('c1', snomed('274025005'), act), cut('c2', cpt, act)])
    expect(twice.only()).toMatchObject({ polypCount: 1, adenomaCountUpper: 1, polypRemoved: true })
    expect(ask([...one, cut('c1', snomed('274025005')), cut('c2', cpt)]).only().polypCount).toBe(2)
  })
})
