import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { measureOf } from '../measure-of.ts'
import { answerTo, type Facts, figuresOf, found, sized, times } from './examined.ts'

const optical = 'adenoma-detection-rate-with-optical-diagnosis-descriptive'
const polyp = (rest: Polyp) => sized(3, { site: 'descending', handling: 'removed', ...rest })
const confirmed = polyp({ histology: 'conventional-adenoma', retrieval: 'retrieved' })
const discarded = (predictedHistology: Polyp['predictedHistology']) =>
  polyp({ retrieval: 'discarded-under-protocol', predictedHistology })
const left = (predictedHistology: Polyp['predictedHistology']) =>
  sized(2, { site: 'rectum', handling: 'left', predictedHistology })

describe('detection with optical diagnosis', () => {
  it.each<[what: string, facts: Facts, answer: AnswerCode, besides: number[] | undefined]>([
    ['confirmed', found(confirmed), 'met', undefined],
    ['predicted adenoma, discarded', found(discarded('conventional-adenoma')), 'met', [1]],
    ['predicted adenoma, left', found(left('conventional-adenoma')), 'met', [1]],
    ['predicted hyperplastic, left', found(left('hyperplastic')), 'not-met', [0]],
    ['left without a prediction', found(left(undefined)), 'not-recorded', undefined],
    ['one of two predicted adenoma', found(left(undefined), discarded('conventional-adenoma')), 'met', [1]],
    [
      'predicted adenoma, histology hyperplastic: histology decides',
      found(polyp({ predictedHistology: 'conventional-adenoma', histology: 'hyperplastic', retrieval: 'retrieved' })),
      'not-met',
      undefined,
    ],
    [
      'predicted adenoma of a polyp that was sent: its report never came',
      found(polyp({ predictedHistology: 'conventional-adenoma', retrieval: 'retrieved' })),
      'not-recorded',
      undefined,
    ],
    [
      'predicted adenoma beside a report that never came',
      found(discarded('conventional-adenoma'), polyp({ retrieval: 'retrieved' })),
      'met',
      [2],
    ],
  ])('%s', (_, facts, answer, besides) => {
    expect(answerTo(optical, facts)).toEqual({ code: answer, ...(besides && { besides }) })
  })

  it('says of its figure that it is predicted, not histology', () => {
    expect(measureOf(optical).definition.resource.disclaimer).toContain('Predicted, not histology')
  })
})

describe('cancers and traditional serrated adenomas', () => {
  it.each([
    ['adenoma-detection-rate-with-cancer-us-2024', 'cancerFound'],
    ['adenoma-or-cancer-detection-rate-us-government-2019', 'cancerFound'],
    ['adenoma-detection-rate-with-traditional-serrated-us-2024', 'traditionalSerratedFound'],
  ] as const)('%s: an adenoma is enough; without one the other has to be known', (id, field) => {
    expect(answerTo(id, found(confirmed), { [field]: undefined }).code).toBe('met')
    expect(answerTo(id, { [field]: undefined }).code).toBe('not-recorded')
    expect(answerTo(id, { [field]: true }).code).toBe('met')
    expect(answerTo(id, { [field]: false }).code).toBe('not-met')
    expect(answerTo(id, { [field]: true, adenomaFound: undefined }).code).toBe('met')
  })

  it('a cancer that was known before is no cancer found', () => {
    const cancer = found(polyp({ histology: 'cancer' }))
    expect(answerTo('cancer-detection-rate-descriptive', cancer).code).toBe('met')
    expect(answerTo('cancer-detection-rate-descriptive', cancer, { referralReason: 'known-lesion' }).code).toBe(
      'excluded',
    )
  })
})

describe('polyps', () => {
  it.each<[what: string, polypCount: number | undefined, answer: AnswerCode]>([
    ['none', 0, 'not-met'],
    ['one', 1, 'met'],
    ['a number that is not recorded', undefined, 'not-recorded'],
  ])('%s', (_, polypCount, answer) => {
    for (const id of ['polyp-detection-rate-eu-2017', 'polyp-detection-rate-descriptive'])
      expect(answerTo(id, { polypCount }).code).toBe(answer)
  })
})

describe('adenomas per positive colonoscopy', () => {
  const id = 'adenomas-per-positive-colonoscopy-descriptive'
  it('counts the adenomas of the examinations that have one', () => {
    expect(answerTo(id, found(confirmed, confirmed, polyp({ histology: 'hyperplastic' })))).toMatchObject({
      code: 'met',
      value: 2,
    })
    expect(answerTo(id).code).toBe('excluded')
    expect(answerTo(id, found(confirmed), { adenomaCount: undefined }).code).toBe('not-recorded')
  })

  it('bounds allow every polyp without histology to be one', () => {
    // One of one and a polyp lost: 1 confirmed, at most 2. One negative examination does not count.
    const { whole } = figuresOf(id, [...times(1, found(confirmed, left('hyperplastic'))), ...times(1)])
    expect(whole.score).toBe(1)
    expect(whole.bounds).toEqual({ lower: 1, upper: 2 })
  })
})

describe('what is for audits of a technique only', () => {
  it.each([
    ['diminutive-adenoma-detection-rate-descriptive', found(confirmed)],
    ['cancer-detection-rate-descriptive', found(polyp({ histology: 'cancer' }))],
  ])('%s makes a figure of the unit, and of no person', (id, facts) => {
    const { whole, units, practitioners, divisions } = figuresOf(id, [...times(3, facts), ...times(5)])
    expect(whole.score).toBe(3 / 8)
    expect(units.map(({ key, score }) => [key, score])).toEqual([['northmoor', 3 / 8]])
    expect(practitioners).toEqual([])
    expect(divisions.flatMap(({ stratifier }) => stratifier.dimensions)).not.toContain('practitioner')
    expect(whole.apart.unattributed).toBeUndefined()
  })
})
