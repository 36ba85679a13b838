import { describe, expect, it } from 'vitest'
import { answerSentences } from '../../src/pages/answer-sentences.ts'
import { publishedMeasure } from '../report/published-measure.ts'
import { adenomas, notAvailable, withdrawal } from '../report/results.ts'
import { group, harbour, perforation, unsettled } from './results.ts'

const detection = publishedMeasure('adenoma-detection-rate-us-2024')
const interval = (lower: number, upper: number) => ({ interval: { lower, upper, method: 'Wilson' } })
const spaced = (text: string | undefined) => text?.replaceAll('\u00a0', ' ')

describe('the answer in a sentence', () => {
  it('gives counts, rate and interval of a proportion', () => {
    // Newcombe, Stat Med 1998;17:857-872, Table I, method 3: 81 of 263, 0.2553 to 0.3662.
    const { answer } = answerSentences(detection, group(81, 263, interval(0.2553, 0.3662)))
    expect(spaced(answer)).toBe('81 of 263 examinations met the measure: 30.8 % (95 % interval 25.5 to 36.6 %).')
  })

  it('gives events per 1,000 with the exact interval', () => {
    // R 4.2.2: binom.test(2, 3000)$conf.int, 0.080747 to 2.406133 per 1,000.
    expect(spaced(answerSentences(perforation.measure, perforation.whole).answer)).toBe(
      '2 of 3,000 examinations were followed by the recorded event: 0.67 per 1,000 (95 % interval 0.08 to 2.41 per 1,000).',
    )
  })

  it('gives a count per examination and a time in their units', () => {
    expect(spaced(answerSentences(adenomas.measure, adenomas.whole).answer)).toContain(
      '30 found in 60 examinations: 0.50 per',
    )
    expect(spaced(answerSentences(withdrawal.measure, withdrawal.whole).answer)).toContain(
      'The mean over 40 examinations with a recorded time: 8.3 min',
    )
  })

  it('says why there is no rate, and never 0', () => {
    const absent = answerSentences(unsettled.measure, unsettled.whole)
    expect(absent.answer).toBe(
      'There is no rate to read. No examination of the period is both eligible and settled yet.',
    )
    expect(absent.against).toBeUndefined()
    expect(answerSentences(detection, notAvailable.whole).answer).toContain('does not send what this measure needs')
  })

  it.each([
    [interval(0.36, 0.5), 'The whole interval lies above the minimum standard of 35.0 %.'],
    [interval(0.2, 0.34), 'The whole interval lies below the minimum standard of 35.0 %.'],
    [
      interval(0.3, 0.4),
      'The interval includes the minimum standard of 35.0 %: these numbers do not say on which side the rate lies.',
    ],
    [
      interval(0.35, 0.4),
      'The interval includes the minimum standard of 35.0 %: these numbers do not say on which side the rate lies.',
    ],
  ])('compares the interval, not the bare rate, with the minimum', (rest, expected) => {
    expect(spaced(answerSentences(detection, group(38, 100, rest)).against)).toBe(expected)
  })

  it('compares the bounds where they are to be read', () => {
    const whole = { ...harbour.whole, readBounds: true, bounds: { lower: 0.36, upper: 0.5 } }
    expect(spaced(answerSentences(detection, whole).answer)).toBe(
      'The rate lies somewhere from 36.0 to 50.0 %. 318 of 846 examinations met the measure, but too much is not recorded to read a single figure.',
    )
    expect(spaced(answerSentences(detection, whole).against)).toBe(
      'The whole bounds lie above the minimum standard of 35.0 %.',
    )
  })
})
