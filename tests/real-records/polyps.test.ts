import type { FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { examine } from './hospital.ts'
import { load } from './load.ts'

/**
 * Polyps, counted by hand: Conditions of the codes 68496003 and 713197008 that name the encounter of a colonoscopy (all four
 * later "resolved"), the size observation of the same encounter (LOINC 33756-8, in mm; the recurrent polyp has none), and the
 * polypectomy 274031008 of the same encounter, which names the Condition as its reason and nothing as the whole it is part of.
 */
const polypsByHand = [
  // abram-lemke
  { examinationDate: '2015-01-14', sizeMillimetres: 6.938 }, // written 6.9383
  { examinationDate: '2016-01-09', sizeMillimetres: undefined },
  // orval-friesen
  { examinationDate: '2016-04-22', sizeMillimetres: 4.9 }, // written 4.8999
  // afhir
  { examinationDate: '2010-12-07', sizeMillimetres: 4.169 }, // written 4.1691533063330315
]

describe('polyps in records that others wrote', async () => {
  const everything = [...load('synthea'), ...load('from-cda'), ...load('fhir-specification')]
  const { records } = await examine(everything)
  const withPolyps = records.filter(({ polypCount }) => polypCount !== undefined)

  it('are four, one in each of four examinations, each removed', () => {
    const byDate = (one: { examinationDate: string | undefined }, other: { examinationDate: string | undefined }) =>
      (one.examinationDate ?? '') < (other.examinationDate ?? '') ? -1 : 1
    const found = withPolyps.map(({ examinationDate, polypCount, polyps, polypRemoved, tissueTakenOrTreated }) => ({
      examinationDate,
      polypCount,
      polyps,
      polypRemoved,
      tissueTakenOrTreated,
    }))
    expect(found.sort(byDate)).toEqual(
      [...polypsByHand].sort(byDate).map(({ examinationDate, sizeMillimetres }) => ({
        examinationDate,
        polypCount: 1,
        polyps: [
          {
            handling: 'removed',
            sizeMillimetres,
            sizeAtLeastMillimetres: sizeMillimetres,
            sizeAtMostMillimetres: sizeMillimetres,
            removalAttempted: true,
          },
        ],
        polypRemoved: true,
        tissueTakenOrTreated: true,
      })),
    )
  })

  it('are not recorded, never none, in the other twenty-four', () => {
    const others = records.filter((record) => !withPolyps.includes(record))
    expect(others).toHaveLength(24)
    for (const { polypRemoved, tissueTakenOrTreated, adenomaFound } of others)
      expect([polypRemoved, tissueTakenOrTreated, adenomaFound]).toEqual([undefined, undefined, undefined])
  })

  it('are not those that another day tells of: a polypectomy of 2011, a sessile polyp of 2008', () => {
    const codes = (code: string) => everything.filter((one) => JSON.stringify(one).includes(`"code":"${code}"`))
    const dates = (one: FhirResource) => Object.entries(one).filter(([name]) => /DateTime$/.test(name))
    // Both patients' colonoscopies are of 2012-05-12.
    expect(codes('274025005').map(dates)).toEqual([[['effectiveDateTime', '2011-02-03']]])
    expect(codes('103679000').map(dates)).toEqual([[['onsetDateTime', '2008-01-03']]])
    for (const record of records.filter(({ examinationDate }) => examinationDate === '2012-05-12'))
      expect(record.polypCount).toBeUndefined()
  })
})
