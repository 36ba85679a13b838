import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { amount, examination, type PolypFacts, pathology, tubularAdenoma, word } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'

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

describe('four polyps, no histology', () => {
  it('where none can be had, detection is not met and counted beside; up to four adenomas are possible', () => {
    const story = ask(examination({ ...patient, polyps: [lost, ...others] }))
    expect(story.records[0]).toMatchObject({ pathology: 'not-sent', polypsWithoutObtainableHistology: 4 })
    expect(story.answer(us)).toEqual({ code: 'not-met', besides: [0] })
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('not-met')
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
  })

  it('where one was sent and its report never came, detection is pending within the lag and not recorded after it', () => {
    const sent = examination({
      ...patient,
      polyps: [{ ...snared, said: [...snared.said], specimen: 'pot' }, ...others],
    })
    // Sixty days after 10 March is 9 May: the last day on which the report may still come.
    expect(ask(sent, '2026-05-09').answer(us).code).toBe('pending')
    const late = ask(sent, '2026-05-10')
    expect(late.records[0]?.pathology).toBe('missing')
    expect(late.answer(us).code).toBe('not-recorded')
    expectAnswers(late, { uk: 'not-recorded', withdrawal: 'out', bleeding: 'not-met' })
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
