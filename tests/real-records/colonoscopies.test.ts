import type { FhirResource } from 'fhir/r4'
import { beforeAll, describe, expect, it } from 'vitest'
import { countedByHand } from './counted-by-hand.ts'
import { type Examined, examine, link } from './hospital.ts'
import { load, read, toServer } from './load.ts'

let everything: FhirResource[]
let examined: Examined
beforeAll(async () => {
  everything = [...load('synthea'), ...load('from-cda'), ...load('fhir-specification')]
  examined = await examine(everything)
})

const proceduresOf = (resources: readonly FhirResource[]): Set<string> =>
  new Set(resources.filter(({ resourceType }) => resourceType === 'Procedure').map(({ id }) => `Procedure/${id}`))
const recordsOf = (resources: readonly FhirResource[]) => {
  const procedures = proceduresOf(resources)
  return examined.records.filter(({ procedure }) => procedures.has(procedure))
}

describe('colonoscopies in records that others wrote', () => {
  it('are 28 that have a date: 21 of the generated patients, 7 of the converted documents', () => {
    expect(examined.records).toHaveLength(28)
    expect(recordsOf(load('synthea'))).toHaveLength(21)
    expect(recordsOf(load('from-cda'))).toHaveLength(7)
  })

  it.each(countedByHand)('are on $dates in $name', ({ collection, name, dates, operator }) => {
    const records = recordsOf(toServer([read(collection, name)]))
    expect(records.map(({ examinationDate }) => examinationDate).sort()).toEqual(dates)
    for (const record of records) expect(record.operator).toBe(operator)
  })

  it('leave out the one of the specification, which has no date, and nothing else', () => {
    expect(examined.leftOut).toEqual([{ reference: 'Procedure/colonoscopy', reason: 'no date' }])
  })

  it('come with a pull that lacks nothing, and that names the practitioner who is not there', () => {
    expect(examined.pulled.incomplete).toEqual([])
    expect(examined.pulled.notes).toEqual([
      'Source harbour: 1 references name something outside this source, or not by its id, and were not followed.',
    ])
  })

  it('stay apart where they are days apart, and where two patients share one identifier', () => {
    const pairs = recordsOf(toServer([read('from-cda', 'jaime-marquez')]))
    expect(new Set(pairs.map(({ procedure }) => procedure)).size).toBe(4)
    const shared = ['ccd', 'operative-note'].flatMap((name) => recordsOf(toServer([read('from-cda', name)])))
    expect(shared.map(({ examinationDate, age }) => [examinationDate, age])).toEqual([
      // Born 1975-05-01 and 2005-05-01.
      ['2012-05-12', 37],
      ['2012-05-12', 7],
    ])
  })

  it('are the same when everything is linked at once, claims and orders and notes included', () => {
    const types = new Set(everything.map(({ resourceType }) => resourceType))
    for (const type of ['Claim', 'ExplanationOfBenefit', 'ServiceRequest', 'DocumentReference', 'CarePlan'])
      expect(types).toContain(type)
    const { records, leftOut } = link(everything)
    expect(records).toEqual(examined.records)
    expect(leftOut).toEqual(examined.leftOut)
  })

  it('are counted once though a document repeats them within its transaction', () => {
    // jq above: 8 and 2 Procedures, 4 and 1 ids.
    expect(link([read('from-cda', 'jaime-marquez'), read('from-cda', 'cda-example')]).records).toHaveLength(5)
  })
})

describe('what merely speaks of a colonoscopy', () => {
  it('is never counted: 10 lines of claims and bills, an order, an encounter of that code', () => {
    // jq '[.entry[].resource | select(.resourceType == "Claim") | .item[].productOrService.coding[] | select(.code == "73761001")]
    //     | length' : 3 in abram-lemke, 2 in sample-complete-patient; as many in ExplanationOfBenefit.
    const billed = everything.filter(({ resourceType }) => /^(Claim|ExplanationOfBenefit)$/.test(resourceType))
    const lines = billed.flatMap((bill) => JSON.stringify(bill).match(/"code":"73761001"/g) ?? [])
    expect(lines).toHaveLength(10)
    const others = everything.filter(({ resourceType }) => resourceType !== 'Procedure')
    expect(JSON.stringify(others).match(/"code":"73761001"/g)).toHaveLength(12)
    expect(link(others)).toEqual({ records: [], leftOut: [] })
  })

  it('is not asked for: no claim, bill, note or order reaches linkage', () => {
    const pulled = new Set(examined.pulled.resources.map((one) => (one as FhirResource).resourceType))
    expect([...pulled].sort()).toEqual([
      'Condition',
      'DiagnosticReport',
      'Encounter',
      'Medication',
      'MedicationAdministration',
      'Observation',
      'Patient',
      'Practitioner',
      'PractitionerRole',
      'Procedure',
    ])
  })
})
