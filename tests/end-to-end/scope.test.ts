import type { MeasureReport } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { systems } from '../../src/local/demo/region.ts'
import { apartOf, asOf, countOf, groupOf, populationsOf, settledThrough, strataOf } from './read-report.ts'
import { demoBindings, rememberingDemo, service } from './service.ts'

const detection = 'adenoma-detection-rate-us-2024'
const intubation = 'caecal-intubation-rate-uk-2016'
const quarter = 'periodStart=2026-04&periodEnd=2026-06'
const demo = rememberingDemo()
const { report } = service(demo)

/** Examinations of the whole report in any population, or apart for being pending. */
const pending = (one: MeasureReport): number => apartOf(groupOf(one)).get('pending') ?? 0
const practitionerStratum = (one: MeasureReport, number: string) =>
  strataOf(one, 'practitioner').find(({ value }) => value?.text === number)

describe('x-unit', () => {
  it('gives the report of that unit, which has the populations of its stratum in the report of all', async () => {
    // Withdrawal is told at once, so all reports are settled through the same day and their counts are comparable.
    const all = await report('withdrawal-time-us-2024', quarter)
    const one = await report('withdrawal-time-us-2024', `${quarter}&x-unit=tarnhollow`)
    expect(one.reporter).toEqual({
      type: 'Organization',
      identifier: { value: 'tarnhollow' },
      display: 'Tarnhollow Endoscopy Unit',
    })
    expect(strataOf(one, 'unit').map(({ value }) => value?.text)).toEqual(['Tarnhollow Endoscopy Unit'])
    expect([settledThrough(all), settledThrough(one)]).toEqual(['2026-06-30', '2026-06-30'])
    const stratum = strataOf(all, 'unit').find(({ value }) => value?.coding?.[0]?.code === 'tarnhollow')
    expect(stratum && populationsOf(stratum)).toEqual(populationsOf(groupOf(one)))
    expect(countOf(groupOf(one), 'initial-population')).toBeGreaterThan(100)
  })
})

describe('practitioner', () => {
  const byIdentifier = `practitioner=${encodeURIComponent(`${systems.people}|HM-1105`)}`

  it('is named by identifier, or by any of the Practitioner resources of one person, with the same report', async () => {
    const reports = await Promise.all(
      [
        byIdentifier,
        'practitioner=Practitioner/practitioner-HM-1105',
        'practitioner=Practitioner/practitioner-HM-1105-b',
      ].map((who) => report('withdrawal-time-us-2024', `${quarter}&${who}`)),
    )
    expect(reports[1]).toEqual(reports[0])
    expect(reports[2]).toEqual(reports[0])
    expect(reports[0]?.type).toBe('summary')
    expect(reports[0]?.reporter).toEqual({
      type: 'Practitioner',
      identifier: { system: systems.people, value: 'HM-1105' },
    })
  })

  it('has in the report of one person the populations of the stratum in the report of all, from both units', async () => {
    const all = await report('withdrawal-time-us-2024', quarter)
    const own = await report('withdrawal-time-us-2024', `${quarter}&${byIdentifier}`)
    const stratum = practitionerStratum(all, 'HM-1105')
    expect(stratum && populationsOf(stratum)).toEqual(populationsOf(groupOf(own)))
    expect(strataOf(own, 'unit')).toHaveLength(2)
  })

  it('may be narrowed to one of the person’s units', async () => {
    const units = await Promise.all(
      ['ellenby', 'tarnhollow'].map((unit) => report(intubation, `${quarter}&${byIdentifier}&x-unit=${unit}`)),
    )
    for (const one of units) expect(countOf(groupOf(one), 'initial-population')).toBeGreaterThan(0)
    expect(units[0]?.group).not.toEqual(units[1]?.group)
  })
})

describe('x-as-of', () => {
  it('earlier leaves more pending and settles fewer days', async () => {
    const [earlier, later] = [
      await report(detection, `${quarter}&x-as-of=2026-07-03`),
      await report(detection, quarter),
    ]
    // 3 July ends in London at 23:00 UTC.
    expect([asOf(earlier), asOf(later)]).toEqual(['2026-07-03T22:59:59.999Z', '2026-08-15T22:59:59.999Z'])
    expect(pending(later)).toBeGreaterThan(0)
    expect(pending(earlier)).toBeGreaterThan(2 * pending(later))
    const [fewer, more] = [settledThrough(earlier) ?? 'none', settledThrough(later) ?? 'none']
    expect([fewer, more].toSorted()).toEqual([fewer, more])
    expect([fewer, more]).toEqual([
      expect.stringMatching(/^2026-0[456]-\d\d$/),
      expect.stringMatching(/^2026-06-\d\d$/),
    ])
    expect(fewer).not.toBe(more)
  })

  it('takes an instant with its zone', async () => {
    const one = await report(intubation, `${quarter}&x-as-of=2026-07-03T12:00:00%2B01:00`)
    expect(asOf(one)).toBe('2026-07-03T11:00:00.000Z')
  })

  it('later than the configured present is capped at it', async () => {
    const capped = await report(intubation, `${quarter}&x-as-of=2027-01-01`)
    expect(capped).toEqual(await report(intubation, quarter))
  })

  it('later than the present is capped at it where none is configured', async () => {
    const { AS_OF: _, ...bindings } = demoBindings
    const capped = await service(demo, bindings).report(intubation, `${quarter}&x-as-of=2027-01-01`)
    expect(asOf(capped)).toBe('2026-09-01T12:00:00.000Z')
  })
})
