import { describe, expect, it } from 'vitest'
import { examine } from './hospital.ts'
import { load } from './load.ts'

describe('what records without histology, times or events can say', async () => {
  const { records, report } = await examine([...load('synthea'), ...load('from-cda'), ...load('fhir-specification')])
  const groups = (measure: string) => {
    const { whole, practitioners } = report(measure)
    expect(practitioners).toHaveLength(11)
    return [whole, ...practitioners]
  }

  it.each([
    // Under 18, and under 45, on the day: operative-note (7); and of the documents of 1975 births also ccd and cda-example (37).
    ['adenoma-detection-rate-uk-2016', 27, 1],
    ['adenoma-detection-rate-us-2024', 25, 3],
    ['adenomas-per-colonoscopy-descriptive', 27, 1],
  ])('%s is not available for %i, with no score for anybody', (measure, notAvailable, out) => {
    const { whole } = report(measure)
    expect(whole.absentBecause).toBe('not-available')
    expect(whole.apart).toMatchObject({ 'not-available': notAvailable, out })
    expect(notAvailable + out).toBe(28)
    for (const { score, interval, bounds, settled } of groups(measure)) {
      expect([score, interval, bounds]).toEqual([undefined, undefined, undefined])
      expect(settled).toMatchObject({ denominator: 0, met: 0, notMet: 0 })
    }
  })

  it.each(['perforation-rate-30-day-descriptive', 'post-polypectomy-bleeding-rate-30-day-descriptive'])(
    '%s is not available: that nothing is recorded does not mean that nothing happened',
    (measure) => {
      for (const group of groups(measure)) {
        expect(group.absentBecause).toBe('not-available')
        expect(group.score).toBeUndefined()
      }
      expect(report(measure).whole.apart['not-available']).toBe(28)
      for (const { perforation, bleeding } of records) expect([perforation, bleeding]).toEqual([undefined, undefined])
    },
  )

  it('withdrawal time has no value: the 28 to 43 minutes in the files are the whole procedure', () => {
    // Ends less starts of performedPeriod, taken by hand from the 21 generated Procedures: 28 min (2012-02-21) to 43 (2017-03-30).
    for (const { withdrawalMinutes, insertionMinutes } of records)
      expect([withdrawalMinutes, insertionMinutes]).toEqual([undefined, undefined])
    for (const { score, settled } of groups('withdrawal-time-us-2024')) {
      expect(score).toBeUndefined()
      expect(settled).toMatchObject({ met: 0, valueSum: 0 })
    }
  })

  it('caecal intubation is not recorded in all 28, and not available where a photograph must prove it', () => {
    for (const { caecumReached, extent } of records) expect([caecumReached, extent]).toEqual([undefined, undefined])
    const adjusted = report('caecal-intubation-rate-adjusted-uk-2011').whole
    expect(adjusted.apart['not-recorded']).toBe(28)
    expect(adjusted.settled).toMatchObject({ denominator: 0, met: 0, notMet: 0 })
    expect(adjusted.score).toBeUndefined()
    expect(report('caecal-intubation-rate-uk-2016').whole).toMatchObject({
      absentBecause: 'not-available',
      apart: { 'not-available': 28 },
    })
  })

  it('preparation is not recorded in the 21 outpatients, and the other 7 have no setting', () => {
    // All 21 encounters of the generated patients are of class AMB; the converted documents link no encounter.
    const { whole } = report('adequate-bowel-preparation-rate-us-2024')
    expect(whole.apart).toMatchObject({ 'not-recorded': 21, 'eligibility-not-recorded': 7 })
    expect(whole.score).toBeUndefined()
  })
})
