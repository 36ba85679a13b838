import { describe, expect, it } from 'vitest'
import type { CompiledMeasure } from '../../src/measures/compiled-measure.ts'
import type { MeasureDefinition } from '../../src/measures/measure.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { answerOf } from '../../src/tally/answer-of.ts'

// The order of the answers is the written definition of this service; each line below is one line of it.
type Truth = boolean | undefined
const record: Colonoscopy = { procedure: 'Procedure/1', source: 's', completionPhotographed: false }
const later = { day: 100, asOfDay: 1000, pathologyLagDays: 60, eventLagDays: 0 }

function measure(
  truths: Partial<Record<'population' | 'denominator' | 'exclusion' | 'numerator' | 'exception', Truth>>,
  extra: Partial<MeasureDefinition> = {},
): CompiledMeasure {
  const says = (name: keyof typeof truths) => () => truths[name]
  return {
    definition: { scoring: 'proportion', waitsForHistology: true, ...extra } as MeasureDefinition,
    initialPopulation: says('population'),
    denominator: says('denominator'),
    exclusion: says('exclusion'),
    exception: says('exception'),
    numerator: says('numerator'),
    observation: undefined,
    observationLower: undefined,
    observationUpper: undefined,
    denominatorObservation: undefined,
    itemsNotRecorded: undefined,
    itemsUndecided: undefined,
    besides: [],
  }
}
const inside = { population: true, denominator: true, exclusion: false }

describe('the order of an answer', () => {
  it.each<[string, Parameters<typeof measure>[0], string]>([
    ['out of the population', { population: false, denominator: undefined }, 'out'],
    ['out of the denominator, though the population is unknown', { population: undefined, denominator: false }, 'out'],
    ['population unknown', { population: undefined, denominator: true }, 'eligibility-not-recorded'],
    ['denominator unknown', { population: true, denominator: undefined, exclusion: true }, 'eligibility-not-recorded'],
    ['excluded before the numerator is looked at', { ...inside, exclusion: true, numerator: true }, 'excluded'],
    ['met', { ...inside, numerator: true, exception: true }, 'met'],
    ['numerator unknown', { ...inside, exception: true }, 'not-recorded'],
    ['excepted only when not met', { ...inside, numerator: false, exception: true }, 'excepted'],
    ['not met', { ...inside, numerator: false }, 'not-met'],
  ])('%s', (_, truths, code) => {
    expect(answerOf(measure(truths), record, later).code).toBe(code)
  })

  it('an unknown exclusion does not exclude, and is counted', () => {
    expect(answerOf(measure({ population: true, denominator: true, numerator: false }), record, later)).toEqual({
      code: 'not-met',
      exclusionUnrecorded: true,
    })
  })

  it('histology that may still come makes it pending, even where one adenoma is confirmed', () => {
    const pending = { ...record, pathology: 'pending' as const }
    expect(answerOf(measure({ ...inside, numerator: true }), pending, later)).toEqual({
      code: 'pending',
      alreadyMet: true,
    })
    expect(answerOf(measure({ ...inside, exclusion: true }), pending, later).code).toBe('excluded')
  })

  it('who is in is not open for good while histology that decides it may come', () => {
    const pending = { ...record, pathology: 'pending' as const }
    const decided = { eligibilityWaitsForHistology: true }
    const open = { population: true, denominator: undefined }
    expect(answerOf(measure(open, decided), pending, later).code).toBe('pending')
    expect(answerOf(measure(open), pending, later).code).toBe('eligibility-not-recorded')
    expect(answerOf(measure(open, decided), record, later).code).toBe('eligibility-not-recorded')
  })

  it('an event window is open on its last day and settled the day after, the lag added', () => {
    const thirty = measure({ ...inside, numerator: false }, { eventWindowDays: 30, waitsForHistology: false })
    expect(answerOf(thirty, record, { ...later, asOfDay: 130 }).code).toBe('pending')
    expect(answerOf(thirty, record, { ...later, asOfDay: 131 }).code).toBe('not-met')
    expect(answerOf(thirty, record, { ...later, asOfDay: 144, eventLagDays: 14 }).code).toBe('pending')
    expect(answerOf(thirty, record, { ...later, asOfDay: 145, eventLagDays: 14 }).code).toBe('not-met')
  })

  it('a preliminary report keeps every measure pending, but not beyond the lag', () => {
    const open = { ...record, report: 'preliminary' as const }
    const any = measure({ ...inside, numerator: undefined }, { waitsForHistology: false })
    expect(answerOf(any, open, { ...later, asOfDay: 160 }).code).toBe('pending')
    expect(answerOf(any, open, { ...later, asOfDay: 161 }).code).toBe('not-recorded')
  })
})
