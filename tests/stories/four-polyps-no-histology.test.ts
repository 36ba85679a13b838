import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { expectCourse } from './course-and-preparation.ts'
import { amount, examination, type PolypFacts, pathology, tubularAdenoma, word } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'
import { expectNothingAfterwards } from './nothing-afterwards.ts'
import { everyKind, expectFound } from './what-was-found.ts'

// Conventional adenomas count by histology alone (US 2024, UK 2016); nothing here has any.
const snared = {
  site: 'ascending',
  millimetres: 6,
  handling: 'removed',
  said: [word('polyp-tool', 'cold-snare')],
} as const
const lost: PolypFacts = { ...snared, said: [...snared.said], retrieval: 'not-retrieved' }
const others: PolypFacts[] = [
  {
    site: 'descending',
    millimetres: 3,
    handling: 'removed',
    retrieval: 'discarded-under-protocol',
    said: [word('polyp-tool', 'cold-snare'), word('predicted-histology', 'conventional-adenoma')],
  },
  { site: 'rectum', millimetres: 2, handling: 'left' },
  { site: 'sigmoid', millimetres: 8, handling: 'not-found-again' },
]
const patient = {
  id: 'f',
  birthDate: '1963-01-01',
  reasons: ['surveillance'],
  said: [word('advice', 'repeat-colonoscopy'), amount('advised-interval', 5, 'a')],
}
const us = 'adenoma-detection-rate-us-2024'
const perColonoscopy = 'adenomas-per-colonoscopy-descriptive'
const optical = 'adenoma-detection-rate-with-optical-diagnosis-descriptive'

describe('four polyps, no histology', () => {
  it('a polyp seen and left is a negative examination; where a negative one is one without a lesion, it is not', () => {
    const rectal: PolypFacts = { site: 'rectum', millimetres: 2, handling: 'left' }
    const story = ask(examination({ ...patient, withdrawalMinutes: 9, polyps: [rectal] }))
    expectFacts(story, { tissueTakenOrTreated: false, polypCount: 1, pathology: 'not-sent' })
    expectAnswers(story, { withdrawal: { code: 'met', value: 9 } })
    expectCourse(story, {
      reason: 'surveillance',
      withdrawal: 'met',
      but: { 'withdrawal-time-no-lesion-seen-us-2024': 'out' },
    })
  })

  it('where none can be had, detection is not met and counted beside; up to four adenomas are possible', () => {
    const story = ask(examination({ ...patient, polyps: [lost, ...others] }))
    expect(story.records[0]).toMatchObject({ pathology: 'not-sent', polypsWithoutObtainableHistology: 4 })
    expect(story.answer(us)).toEqual({ code: 'not-met', besides: [0] })
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('not-met')
    expectFound(story, {
      us: 'not-met',
      eu: 'not-met',
      euWithoutSurveillance: 'excluded',
      polypsEu: 'met',
      polyps: 'met',
      perPositive: 'excluded',
      ...everyKind('not-met'),
      optical: 'met',
    })
    // Predicted, not histology: met by a prediction alone.
    expect(story.answer(optical)).toEqual({ code: 'met', besides: [1] })
    expect(story.answer('adenoma-at-least-10-mm-detection-rate-descriptive').besides).toEqual([0])
    expect(story.answer(perColonoscopy)).toMatchObject({ code: 'met', value: 0, lower: 0, upper: 4 })
    expect(story.answer('withdrawal-time-us-2024').code).toBe('out')
    expectFacts(story, {
      polypCount: 4,
      polypRemoved: true,
      polypsLeftCount: 1,
      polypsNotFoundAgainCount: 1,
      knownLesionCount: 0,
      adenomaFound: false,
      adenomaCountLower: 0,
      adenomaCountUpper: 4,
      polyps: [
        { site: 'ascending', tool: 'cold-snare', retrieval: 'not-retrieved', histology: undefined },
        { site: 'descending', predictedHistology: 'conventional-adenoma', histology: undefined },
        { site: 'rectum', handling: 'left' },
        { site: 'sigmoid', handling: 'not-found-again' },
      ],
      advice: 'repeat-colonoscopy',
      advisedIntervalMonths: 60,
    })
    expectAnswers(story, { bleeding: 'not-met', caecum: 'met', preparation: 'met' })
    expectCourse(story, { reason: 'surveillance' })
    expectNothingAfterwards(story, { removed: 'not-met' })
    // Two were resected. As UK 2016 is written neither came to histology; the one discarded under protocol left out, none of one did.
    expect(story.answer('polyp-retrieval-rate-uk-2016')).toMatchObject({ code: 'met', value: 0, over: 2 })
    expect(story.answer('polyp-retrieval-rate-without-discarded-uk-2016')).toMatchObject({ value: 0, over: 1 })
    // Of 4 to 9 mm and removed is the first alone.
    expect(story.answer('cold-snare-rate-4-to-9-mm-us-2024')).toMatchObject({ value: 1, over: 1 })
    expect(story.answer('lesions-left-in-place-per-colonoscopy-descriptive')).toMatchObject({
      value: 2,
      besides: [0, 1],
    })
    expect(story.answer('lesions-left-on-purpose-per-colonoscopy-descriptive').value).toBe(1)
    expect(story.answer('lesions-not-found-again-per-colonoscopy-descriptive').value).toBe(1)
    // Five years were advised; without histology no table says whether that is right: not assessable.
    expectAnswers(story, { intervalUs: 'excluded', intervalEu: 'excluded', intervalUk: 'excluded' })
  })

  it('where one was sent and its report never came, detection is pending within the lag and not recorded after it', () => {
    const sent = examination({
      ...patient,
      polyps: [{ ...snared, said: [...snared.said], specimen: 'pot' }, ...others],
    })
    // Sixty days after 10 March is 9 May: the last day on which the report may still come.
    expect(ask(sent, '2026-05-09').answer(us).code).toBe('pending')
    expectAnswers(ask(sent, '2026-05-09'), { intervalUs: 'pending', intervalEu: 'pending', intervalUk: 'pending' })
    const late = ask(sent, '2026-05-10')
    expectAnswers(late, { intervalUs: 'excluded', intervalEu: 'excluded', intervalUk: 'excluded' })
    expect(late.records[0]?.pathology).toBe('missing')
    expect(late.answer(us).code).toBe('not-recorded')
    expectFound(late, {
      us: 'not-recorded',
      eu: 'not-recorded',
      euWithoutSurveillance: 'excluded',
      polypsEu: 'met',
      polyps: 'met',
      perPositive: 'not-recorded',
      ...everyKind('not-recorded'),
      optical: 'met',
    })
    // Met by a prediction, while histology never came.
    expect(late.answer(optical)).toEqual({ code: 'met', besides: [2] })
    expect(ask(sent, '2026-05-09').answer(optical).code).toBe('pending')
    expectAnswers(late, { uk: 'not-recorded', withdrawal: 'out', bleeding: 'not-met' })
    expectCourse(late, { reason: 'surveillance', but: { 'pathology-recorded-descriptive': 'not-met' } })
    // Sent is retrieved, whether or not its report ever comes; retrieval does not wait for it.
    for (const story of [late, ask(sent, '2026-05-09')]) {
      expect(story.answer('polyp-retrieval-rate-uk-2016')).toMatchObject({ code: 'met', value: 1, over: 2 })
      expect(story.answer('polyp-retrieval-rate-without-discarded-uk-2016')).toMatchObject({ value: 1, over: 1 })
      expect(story.answer('cold-snare-rate-4-to-9-mm-us-2024')).toMatchObject({ value: 1, over: 1 })
      expect(story.answer('lesions-left-in-place-per-colonoscopy-descriptive').value).toBe(2)
    }
    // The events do not wait for histology.
    expectNothingAfterwards(late, { removed: 'not-met' })
    expect(late.answer(perColonoscopy)).toMatchObject({ code: 'not-recorded', lower: 0, upper: 4 })
  })

  it('30 with an adenoma, 60 without a polyp and 10 that lost theirs are 30 of 100, not 30 of 90', () => {
    const many = (count: number, make: (index: number) => Record<string, unknown>[]) =>
      Array.from({ length: count }, (_, index) => make(index)).flat()
    const { whole } = ask([
      ...many(30, (index) => [
        ...examination({ id: `adenoma-${index}`, polyps: [{ handling: 'removed', specimen: `pot-${index}` }] }),
        ...pathology(`report-${index}`, {
          issued: '2026-03-14T10:00:00Z',
          results: [{ specimen: `pot-${index}`, code: tubularAdenoma }],
        }),
      ]),
      ...many(60, (index) => examination({ id: `none-${index}` })),
      ...many(10, (index) => examination({ ...patient, id: `lost-${index}`, polyps: [lost] })),
    ]).report(us, { start: '2026-01-01', end: '2026-06-30' })
    expect(whole.score).toBe(0.3)
    expect(whole.besides).toEqual([10])
  })

  it('10 of 100 whose report never came leave a rate of which the bounds are to be read, 30 to 40 per cent', () => {
    const detected = (index: number) => [
      ...examination({ id: `adenoma-${index}`, polyps: [{ handling: 'removed', specimen: `pot-${index}` }] }),
      ...pathology(`report-${index}`, {
        issued: '2026-03-14T10:00:00Z',
        results: [{ specimen: `pot-${index}`, code: tubularAdenoma }],
      }),
    ]
    const { whole } = ask(
      Array.from({ length: 100 }, (_, index) =>
        index < 30
          ? detected(index)
          : examination({
              id: `e-${index}`,
              polyps: index < 40 ? [{ handling: 'removed', specimen: `p-${index}` }] : [],
            }),
      ).flat(),
    ).report(us, { start: '2026-01-01', end: '2026-06-30' })
    expect(whole.settled).toMatchObject({ met: 30, notMet: 60 })
    expect(whole.apart['not-recorded']).toBe(10)
    expect(whole.bounds).toEqual({ lower: 0.3, upper: 0.4 })
    expect(whole.readBounds).toBe(true)
  })
})
