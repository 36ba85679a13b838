import { describe, expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { Survey } from '../../src/linkage/survey.ts'
import { WindowResources } from '../../src/linkage/window-resources.ts'
import { ask, definitions } from '../stories/ask.ts'
import { examination, fact, quantity, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// That resources are told apart by type and id is FHIR R4, Resource.id; what is done where that fails is this service's own rule.
const withdrawal = (minutes: number) => ({
  resourceType: 'Observation',
  id: 'w',
  status: 'final',
  code: fact('withdrawal-time'),
  valueQuantity: quantity(minutes, 'min'),
  partOf: [{ reference: 'Procedure/a' }],
})
const polyp = (more: object = {}) => ({
  resourceType: 'Observation',
  status: 'final',
  code: snomed('399505005'),
  partOf: [{ reference: 'Procedure/a' }],
  ...more,
})

describe('two copies of one resource that differ, and do not say which is the newer', () => {
  it('give one answer in whatever order they come, and are listed', () => {
    const base = examination({ id: 'a' })
    const one = ask([...base, withdrawal(9), withdrawal(3)]).only().withdrawalMinutes
    expect(ask([...base, withdrawal(3), withdrawal(9)]).only().withdrawalMinutes).toBe(one)
    expect([3, 9]).toContain(one)
    const survey = new Survey()
    const window = { start: '2026-01-01', end: '2026-12-31' }
    const codes = new Codes(definitions.resources, [])
    linkWindow([...base, withdrawal(3), withdrawal(9)], {
      source: northmoor,
      codes,
      window,
      asOf: Date.parse('2027-01-01'),
      survey,
    })
    expect([...survey.differing]).toEqual(['Observation/w'])
  })
})

describe('resources without an id', () => {
  it('that say the very same are one, however often they come; that say something else are another', () => {
    const count = (...more: object[]) => ask([...examination({ id: 'a' }), ...more]).only().polypCount
    expect(count(polyp())).toBe(1)
    expect(count(polyp(), polyp())).toBe(1)
    expect(
      count(polyp(), Object.fromEntries(Object.entries(polyp()).reverse()), polyp({ bodySite: fact('sigmoid') })),
    ).toBe(2)
  })

  it('come in one order however they were delivered', () => {
    const [one, other] = [polyp({ bodySite: fact('sigmoid') }), polyp({ bodySite: fact('rectum') })]
    expect(new WindowResources([one, other]).ofType('Observation')).toEqual(
      new WindowResources([other, one, other]).ofType('Observation'),
    )
  })
})
