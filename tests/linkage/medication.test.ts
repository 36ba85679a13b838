import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readMedication } from '../../src/linkage/medication.ts'
import type { Told } from '../../src/linkage/reading.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { given } from '../stories/also-recorded.ts'
import { examination, fact, quantity, type Resource } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { oneExamination } from './one-examination.ts'

// MedicationAdministration.status, medication[x], dosage.dose and dosage.rate[x]: FHIR R4 (4.0.1). 1 mg = 1000 ug: UCUM.
// That sums, absences and open drugs are told apart as here is this service's own rule.
const undeclared = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'medication') }
const mg = (value: number) => ({ dose: quantity(value, 'mg') })

function drugs(
  resources: readonly Resource[],
  facts: { led?: boolean; report?: Colonoscopy['report']; source?: typeof northmoor; beside?: Told[] } = {},
) {
  const one = oneExamination([...examination({ id: 'a' }), ...resources], facts.source)
  for (const told of facts.beside ?? []) one.examination.medications.push(told)
  return { ...one, facts: readMedication(one.examination, facts.led, facts.report, one.reading) }
}

/** A drug as it reaches the reader, of whatever status and code. */
function reached(concept: Resource, more: Resource): Told {
  const { reading } = oneExamination(examination({ id: 'a' }))
  const resource = { resourceType: 'MedicationAdministration', id: 'x', status: 'completed', ...more }
  return { resource, holder: resource, code: reading.codes.of(concept), rung: 'shared encounter' }
}

describe('a drug that was given', () => {
  it('twice has the sum of its doses, and nitrous oxide beside it takes nothing away', () => {
    const { facts } = drugs([
      given('midazolam', 'a', { id: 'm1', ...mg(1) }),
      given('midazolam', 'a', { id: 'm2', ...mg(1) }),
      given('fentanyl', 'a', { dose: quantity(50, 'ug') }),
      given('nitrous-oxide', 'a', {}),
    ])
    expect(facts).toEqual({
      sedated: true,
      midazolamMilligrams: 2,
      fentanylMicrograms: 50,
      pethidineMilligrams: 0,
      propofolMilligrams: 0,
      nitrousOxide: true,
      antispasmodic: false,
      reversalAgent: false,
    })
  })

  it('keeps fractions of a microgram: 12.5 ug of fentanyl are 12.5', () => {
    expect(drugs([given('fentanyl', 'a', { dose: quantity(12.5, 'ug') })]).facts.fentanylMicrograms).toBe(12.5)
  })

  it('adds up exactly, whatever units the doses are written in', () => {
    const dose = fc.record({
      micrograms: fc.integer({ min: 1, max: 100_000 }),
      unit: fc.constantFrom(['ug', 1] as const, ['mg', 1000] as const, ['g', 1_000_000] as const),
    })
    fc.assert(
      fc.property(fc.array(dose, { minLength: 1, maxLength: 6 }), (doses) => {
        const administrations = doses.map(({ micrograms, unit: [code, factor] }, index) =>
          given('midazolam', 'a', { id: `m${index}`, dose: quantity(micrograms / factor, code) }),
        )
        const total = doses.reduce((sum, { micrograms }) => sum + micrograms, 0)
        expect(drugs(administrations).facts.midazolamMilligrams).toBe(total / 1000)
      }),
      { seed: 11, numRuns: 40 },
    )
  })

  it.each<[string, Resource, string]>([
    ['a volume', { dose: { value: 2, code: 'mL', unit: 'mL' } }, 'dose'],
    ['a bound', { dose: { value: 2, code: 'mg', comparator: '<' } }, 'dose'],
    ['a rate alone', { rateQuantity: { value: 100, code: 'mg/h' } }, 'rateQuantity'],
    ['words alone', { text: 'titrated' }, 'text'],
    ['nothing', {}, 'dose'],
  ])('as %s: given, its sum not recorded, and listed', (_, dosage, element) => {
    const { facts, trail } = drugs([
      given('propofol', 'a', { id: 'p1', ...mg(40) }),
      given('propofol', 'a', { id: 'p2', more: { dosage } }),
    ])
    expect(facts).toMatchObject({ sedated: true, propofolMilligrams: undefined, midazolamMilligrams: 0 })
    expect(trail.unreadable.map((one) => [one.field, one.element])).toEqual([
      ['propofolMilligrams', `MedicationAdministration.dosage.${element}`],
    ])
  })

  it('in a dose of 0 was not given', () => {
    expect(drugs([given('midazolam', 'a', mg(0))]).facts).toMatchObject({ sedated: false, midazolamMilligrams: 0 })
    const open = drugs([given('midazolam', 'a', mg(0))], { source: undeclared }).facts
    expect(open).toMatchObject({ sedated: undefined, midazolamMilligrams: 0 })
  })

  it('and stopped counts with the dose recorded', () => {
    const stopped = given('propofol', 'a', { ...mg(60), more: { status: 'stopped' } })
    expect(drugs([stopped]).facts.propofolMilligrams).toBe(60)
  })
})

describe('a drug that may have been given', () => {
  it.each(['in-progress', 'on-hold', 'unknown'])('with status %s is no dose, and leaves its drug open', (status) => {
    const beside = [reached(fact('midazolam'), { status, dosage: mg(2) })]
    const { facts, trail } = drugs([], { beside })
    expect(facts).toMatchObject({ sedated: undefined, midazolamMilligrams: undefined, propofolMilligrams: 0 })
    expect(trail.unreadable.map(({ element }) => element)).toEqual(['MedicationAdministration.status'])
  })

  it('under a code that nobody knows leaves every drug open that is not there', () => {
    const local = reached({ coding: [{ system: 'urn:oid:1.2.3', code: '77' }] }, { dosage: mg(2) })
    const { facts } = drugs([given('fentanyl', 'a', { dose: quantity(50, 'ug') })], { beside: [local] })
    expect(facts).toMatchObject({ sedated: true, fentanylMicrograms: 50, midazolamMilligrams: undefined })
    expect(facts.reversalAgent).toBeUndefined()
    // Said to be another drug than all of these, it leaves nothing open.
    expect(drugs([], { beside: [reached(fact('other'), {})] }).facts).toMatchObject({ sedated: false })
  })

  it('as a mixture of two has no dose of either', () => {
    const both = { coding: [...(fact('midazolam').coding as []), ...(fact('fentanyl').coding as [])] }
    const { facts } = drugs([], { beside: [reached(both, { dosage: mg(2) })] })
    expect(facts).toMatchObject({ sedated: true, midazolamMilligrams: undefined, fentanylMicrograms: undefined })
  })
})

describe('silence about drugs', () => {
  it('is none only in a complete feed, with a report that is not preliminary', () => {
    expect(drugs([]).facts).toMatchObject({ sedated: false, midazolamMilligrams: 0, reversalAgent: false })
    const nothing = { sedated: undefined, midazolamMilligrams: undefined, reversalAgent: undefined }
    expect(drugs([], { report: 'preliminary' }).facts).toMatchObject(nothing)
    expect(drugs([], { source: undeclared }).facts).toMatchObject(nothing)
  })

  it('is no lack of sedation where an anaesthetist led it', () => {
    const { facts, trail } = drugs([], { led: true })
    expect(facts).toMatchObject({ sedated: true, propofolMilligrams: 0 })
    expect(trail.evidence.filter(({ field }) => field === 'sedated').map(({ rung }) => rung)).toEqual([
      'inferred from who led the sedation',
    ])
    expect(drugs([], { led: true, source: undeclared }).facts.sedated).toBe(true)
    expect(drugs([], { led: false, source: undeclared }).facts.sedated).toBeUndefined()
  })

  it('is remembered as silence only where nothing was sent', () => {
    expect(drugs([]).examination.seen).not.toContain('medication')
    expect(drugs([given('antispasmodic', 'a', {})]).examination.seen).toContain('medication')
  })
})

it('the trail says which resource gave the dose, and by which rung', () => {
  const { trail } = drugs([given('midazolam', 'a', mg(2))], { source: undeclared })
  expect(trail.evidence.map(({ field, rung, element }) => [field, rung, element])).toEqual([
    ['sedated', 'shared encounter', 'MedicationAdministration.medicationCodeableConcept'],
    ['midazolamMilligrams', 'shared encounter', 'MedicationAdministration.dosage.dose'],
  ])
})
