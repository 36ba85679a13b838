import { describe, expect, it } from 'vitest'
import { apartInWords } from '../../src/report/apart-in-words.ts'
import {
  apartLines,
  boundsInWords,
  eventsInWords,
  leftOutLines,
  scopeInWords,
  scoreInWords,
  settledInWords,
  standardInWords,
} from '../../src/report/in-words.ts'
import type { GroupResult, MeasureResult } from '../../src/tally/result.ts'
import { publishedMeasure } from './published-measure.ts'
import { adenomas, detection, notAvailable, perforation, unsettled, withdrawal } from './results.ts'

const score = ({ measure, whole }: MeasureResult): string => scoreInWords(measure, whole)

describe('the score in words', () => {
  it('gives a proportion in per cent with one decimal', () => {
    // 81/263 = 0.30798…
    expect(score(detection)).toBe('30.8 % (95 % interval 25.5 to 36.6 %, Wilson), 81 of 263 examinations.')
  })

  it('gives rare events per 1,000', () => {
    // 1 of 40: 25 per 1,000, exact interval 0.06 to 13.16 %.
    expect(score(perforation)).toBe(
      '25.00 per 1,000 (95 % interval 0.60 to 131.60 per 1,000, Clopper-Pearson), 1 of 40 examinations.',
    )
  })

  it('gives a ratio per examination, with its sum', () => {
    expect(score(adenomas)).toContain('0.50 per examination')
    expect(score(adenomas)).toContain('a sum of 30 over 60 examinations.')
  })

  it('gives a time in minutes', () => {
    expect(score(withdrawal)).toContain('8.3 minutes (95 % interval 7.6 to 8.9 minutes, mean, Student t)')
  })

  it('says why there is none, and gives no number then', () => {
    expect(score(notAvailable)).toBe('No figure is given. The source does not send what this measure needs.')
    expect(score(unsettled)).not.toMatch(/\d/)
  })
})

describe('bounds in words', () => {
  it('are said where something is not recorded, and that they are to be read when it is too much', () => {
    // 6/31 = 0.1935…, 8/31 = 0.2580…
    const stratum = detection.practitioners[1]
    expect(stratum && boundsInWords(detection.measure, stratum)).toEqual([
      'If what is not recorded were known, the settled days would give 19.4 to 25.8 %.',
      'Too much is not recorded: read these bounds, not the single figure.',
    ])
  })

  it('warn of the figure where no bounds can be given', () => {
    expect(boundsInWords(withdrawal.measure, withdrawal.whole)).toEqual([
      'Too much is not recorded: the single figure may mislead, and no bounds can be given for it.',
    ])
  })

  it('are said over the whole period where something is pending', () => {
    expect(boundsInWords(unsettled.measure, unsettled.whole)).toEqual([
      'With everything still pending, the whole period will give 10.0 to 45.0 %.',
    ])
  })

  it('are not said where nothing is open', () => {
    const whole: GroupResult = { ...detection.whole, bounds: { lower: 0.3, upper: 0.3 } }
    const { wholePeriodBounds: _, ...rest } = whole
    expect(boundsInWords(detection.measure, rest)).toEqual([])
  })
})

describe('the other sentences', () => {
  it('have words for every reason to stand apart', () => {
    const apart = Object.fromEntries(Object.keys(apartInWords).map((reason, index) => [reason, index + 1]))
    expect(apartLines({ ...detection.whole, apart })).toHaveLength(Object.keys(apartInWords).length)
  })

  it('say how far the period is settled', () => {
    expect(settledInWords(perforation)).toContain('Every day of the period is settled.')
    expect(settledInWords(detection)).toContain('through 2026-06-16')
    expect(settledInWords(unsettled)).toContain('Not even the first day')
  })

  it('say how events become known only where events are counted', () => {
    expect(eventsInWords(detection)).toEqual([])
    expect(eventsInWords(perforation)[0]).toContain('within 30 days')
    expect(eventsInWords(perforation)[0]).toContain('treated in the same hospital')
    expect(eventsInWords({ ...perforation, eventsKnownBy: [] })[0]).toContain('no source states')
  })

  it('say the standard, whether it is recalled, and that a descriptive measure has none', () => {
    const uk = publishedMeasure('adenoma-detection-rate-uk-2016')
    expect(standardInWords(uk)).toContain('Standard: UK 2016: minimum 15.0 %, aspirational 20.0 %.')
    const recalled = { ...uk, standard: { name: 'UK 2016', minimum: 0.15, fromMemory: true } }
    expect(standardInWords(recalled)).toContain('recalled from memory')
    expect(standardInWords(perforation.measure)).toContain('has no published standard')
  })

  it('say the scope', () => {
    expect(scopeInWords(detection)).toBe('Examinations from 2026-01-01 to 2026-06-30, all units together.')
    expect(scopeInWords(notAvailable)).toContain('Coast & Hills')
  })

  it('count what was left out', () => {
    expect(leftOutLines(detection)).toEqual(['3 left out: date missing', '1 left out: same date twice & <unclear>'])
  })
})
