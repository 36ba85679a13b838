import { describe, expect, it } from 'vitest'
import { compileMeasure } from '../../src/measures/compiled-measure.ts'
import { compileMeasures } from '../../src/measures/compiled-measures.ts'
import type { MeasureDefinition } from '../../src/measures/measure.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { answerOf } from '../../src/tally/answer-of.ts'
import { variedRecords } from '../criteria/varied-records.ts'
import { definitions } from '../stories/ask.ts'

const settled = { day: 20_000, asOfDay: 21_000, pathologyLagDays: 60, eventLagDays: 0 }
const [first] = definitions.measures as [MeasureDefinition]
const fromFortyFive = {
  expression: 'age >= 45',
  ast: {
    kind: 'operation',
    operator: '>=',
    left: { kind: 'member', name: 'age' },
    right: { kind: 'literal', value: 45 },
  },
  fields: ['age'],
} as const
const aged: MeasureDefinition = {
  ...first,
  criteria: { initialPopulation: fromFortyFive, denominator: fromFortyFive, numerator: fromFortyFive },
}

/** A record that counts how often its age is read. */
function ofAge(age: number | undefined): { record: Colonoscopy; reads: () => number } {
  let reads = 0
  const [varied] = variedRecords(1, 1) as [Colonoscopy]
  const record = Object.defineProperty({ ...varied }, 'age', {
    get: () => {
      reads++
      return age
    },
  })
  return { record, reads: () => reads }
}

describe('measures compiled together', () => {
  it('answer every record as each does alone', () => {
    const alone = definitions.measures.map((measure) => compileMeasure(measure))
    const together = compileMeasures(definitions.measures)
    for (const record of variedRecords(2000, 20261125))
      expect(together.map((measure) => answerOf(measure, record, settled))).toEqual(
        alone.map((measure) => answerOf(measure, record, settled)),
      )
  })

  it('work out a criterion that several of them state once for each record', () => {
    const [one, other] = compileMeasures([aged, { ...aged, id: 'other' }])
    const { record, reads } = ofAge(50)
    for (const measure of [one, other]) expect(measure?.numerator?.(record)).toBe(true)
    expect(reads()).toBe(1)
  })

  it('answer anew for the next record, be it unknown', () => {
    const [one, other] = compileMeasures([aged, { ...aged, id: 'other' }])
    const answers = [50, 44, undefined, 45].flatMap((age) => {
      const { record } = ofAge(age)
      return [one?.denominator?.(record), other?.denominator?.(record)]
    })
    expect(answers).toEqual([true, true, false, false, undefined, undefined, true, true])
  })
})
