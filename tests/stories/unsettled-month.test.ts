import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { examination, fact, hyperplastic, pathology, tubularAdenoma } from './examination.ts'

// Counts worked by hand; exact limits of 1/40: R 4.2.2, binom.test(1, 40).
const june = { start: '2026-06-01', end: '2026-06-30' }
const day = (index: number) => `2026-06-${String(index).padStart(2, '0')}`

/** Twenty eligible examinations: ten negative, ten with a pot; three reports by 3 July, all by 1 August, six adenomas in all. */
const detection = [
  ...Array.from({ length: 10 }, (_, index) => examination({ id: `negative-${index}`, date: day(2 * index + 2) })),
  ...Array.from({ length: 10 }, (_, index) => [
    ...examination({
      id: `polyp-${index}`,
      date: day(2 * index + 1),
      polyps: [{ handling: 'removed', specimen: `pot-${index}` }],
    }),
    ...pathology(`report-${index}`, {
      // The first patients' reports are the late ones; the numbers do not depend on which are.
      issued: index < 7 ? '2026-07-20T12:00:00Z' : '2026-07-02T12:00:00Z',
      results: [{ specimen: `pot-${index}`, code: [0, 1, 2, 3, 7, 8].includes(index) ? tubularAdenoma : hyperplastic }],
    }),
  ]),
].flat()

describe('the month that is not settled', () => {
  it('on 3 July gives no rate, but 2 met, 11 not met, 7 pending and bounds of 10 and 45 per cent', () => {
    const { whole } = ask(detection, '2026-07-03').report('adenoma-detection-rate-us-2024', june)
    expect(whole.score).toBeUndefined()
    expect(whole.apart).toMatchObject({ pending: 7, 'later-met': 2, 'later-not-met': 11 })
    expect(whole.wholePeriodBounds).toEqual({ lower: 2 / 20, upper: 9 / 20 })
  })

  it.each([
    'adenoma-detection-rate-eu-2017',
    'adenoma-detection-rate-us-2015',
    'adenoma-detection-rate-with-cancer-us-2024',
    'adenoma-or-cancer-detection-rate-us-government-2019',
    'adenoma-detection-rate-with-optical-diagnosis-descriptive',
  ])('%s says the same on both days', (id) => {
    const early = ask(detection, '2026-07-03').report(id, june).whole
    expect(early.score).toBeUndefined()
    expect(early.apart).toMatchObject({ pending: 7, 'later-met': 2, 'later-not-met': 11 })
    expect(early.wholePeriodBounds).toEqual({ lower: 2 / 20, upper: 9 / 20 })
    expect(ask(detection, '2026-08-01').report(id, june).whole.score).toBe(0.3)
  })

  it('polyps are known at once, 10 of 20; adenomas per positive examination wait as detection does', () => {
    const positive = 'adenomas-per-positive-colonoscopy-descriptive'
    const early = ask(detection, '2026-07-03')
    expect(early.report('polyp-detection-rate-descriptive', june).whole.score).toBe(0.5)
    expect(early.report(positive, june).whole.score).toBeUndefined()
    expect(early.report(positive, june).whole.apart.pending).toBe(7)
    // Six with one adenoma each.
    expect(ask(detection, '2026-08-01').report(positive, june).whole.score).toBe(1)
  })

  it('on 1 August gives 6 of 20', () => {
    const { whole, settledThrough } = ask(detection, '2026-08-01').report('adenoma-detection-rate-us-2024', june)
    expect(whole.settled).toMatchObject({ met: 6, notMet: 14 })
    expect(whole.score).toBe(0.3)
    expect(settledThrough).toBe('2026-06-30')
  })

  it('over twelve months on 3 July gives the rate of the days before June, and says through which day', () => {
    // Thirty settled examinations of January, twelve with an adenoma: 12/30. June's first day holds a pending one.
    const january = Array.from({ length: 30 }, (_, index) => [
      ...examination({
        id: `january-${index}`,
        date: `2026-01-${String(index + 1).padStart(2, '0')}`,
        polyps: index < 12 ? [{ handling: 'removed', specimen: `january-pot-${index}` }] : [],
      }),
      ...(index < 12
        ? pathology(`january-report-${index}`, {
            issued: '2026-02-10T12:00:00Z',
            results: [{ specimen: `january-pot-${index}`, code: tubularAdenoma }],
          })
        : []),
    ]).flat()
    const { whole, settledThrough } = ask([...january, ...detection], '2026-07-03').report(
      'adenoma-detection-rate-us-2024',
      { start: '2025-07-01', end: '2026-06-30' },
    )
    expect(settledThrough).toBe('2026-05-31')
    expect(whole.settled).toMatchObject({ met: 12, notMet: 18 })
    expect(whole.score).toBe(0.4)
    expect(whole.apart).toMatchObject({ pending: 7, 'later-met': 2, 'later-not-met': 11 })
  })

  it('a report issued after the as-of instant is not known yet, whatever has come since', () => {
    const early = ask(detection, '2026-07-03').report('adenoma-detection-rate-us-2024', june)
    const lateless = detection.filter(
      (resource) => !(resource.resourceType === 'DiagnosticReport' && resource.issued === '2026-07-20T12:00:00Z'),
    )
    expect(ask(lateless, '2026-07-03').report('adenoma-detection-rate-us-2024', june).whole).toEqual(early.whole)
  })

  /** Forty examinations: three on the first two days of June, the rest later; one perforation on 2 June, found that day. */
  const harm = [
    ...[
      '2026-06-01',
      '2026-06-02',
      '2026-06-02',
      ...Array.from({ length: 37 }, (_, index) => day(3 + (index % 28))),
    ].map((date, index) => examination({ id: `exam-${index}`, date })),
    [
      {
        resourceType: 'Condition',
        id: 'perforation',
        code: fact('perforation'),
        subject: { reference: 'Patient/patient-exam-1' },
        onsetDateTime: '2026-06-02',
        recordedDate: '2026-06-02',
      },
    ],
  ].flat()

  it('shows an early event at once, without a rate', () => {
    const { whole, settledThrough } = ask(harm, '2026-07-03').report('perforation-rate-30-day-descriptive', june)
    expect(whole.score).toBeUndefined()
    expect(whole.absentBecause).toBe('too-little-settled')
    // 37 windows are still open; the event lies among the three that have closed.
    expect(whole.apart.pending).toBe(37)
    expect(whole.settled).toMatchObject({ met: 1, notMet: 2 })
    expect(settledThrough).toBe('2026-06-02')
  })

  it('a shorter window is settled sooner: on 3 July seven days have passed for the examinations to 25 June', () => {
    const { whole, settledThrough } = ask(harm, '2026-07-03').report('perforation-rate-7-day-descriptive', june)
    expect(settledThrough).toBe('2026-06-25')
    expect(whole.settled.met).toBe(1)
    expect(whole.score).toBe(1 / whole.settled.denominator)
    const after = ask(harm, '2026-07-08').report('perforation-rate-7-day-descriptive', june).whole
    expect(after.settled).toMatchObject({ met: 1, notMet: 39 })
    expect(after.interval?.upper).toBeCloseTo(0.1316, 4)
  })

  it('lists an event whose window is still open as one to review', () => {
    const { whole } = ask(harm, '2026-06-20').report('perforation-rate-30-day-descriptive', june)
    expect(whole.apart).toMatchObject({ pending: expect.any(Number), 'pending-already-met': 1 })
    expect(whole.score).toBeUndefined()
  })

  it('after the last window has passed gives 1 of 40 with exact limits', () => {
    const { whole } = ask(harm, '2026-08-01').report('perforation-rate-30-day-descriptive', june)
    expect(whole.settled).toMatchObject({ met: 1, notMet: 39 })
    expect(whole.interval?.lower).toBeCloseTo(0.0006, 4)
    expect(whole.interval?.upper).toBeCloseTo(0.1316, 4)
  })
})
