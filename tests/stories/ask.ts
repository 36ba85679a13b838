import { readFileSync } from 'node:fs'
import { expect } from 'vitest'
import type { Source } from '../../src/config.ts'
import { Codes } from '../../src/fhir/codes.ts'
import { civilDate, readMoment } from '../../src/fhir/dates.ts'
import type { Window } from '../../src/linkage/context.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import type { Rung } from '../../src/linkage/rungs.ts'
import { Survey, type Unmatched } from '../../src/linkage/survey.ts'
import type { Contradiction, Doubt } from '../../src/linkage/trail.ts'
import { compileMeasures } from '../../src/measures/compiled-measures.ts'
import type { Definitions } from '../../src/measures/definitions.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import type { FieldName } from '../../src/record/fields.ts'
import type { Answer, AnswerCode } from '../../src/tally/answer.ts'
import { type AnswerRow, answerRow } from '../../src/tally/answer-row.ts'
import type { MeasureResult } from '../../src/tally/result.ts'
import { tally } from '../../src/tally/tally.ts'
import { northmoor } from './northmoor.ts'

export const definitions = JSON.parse(readFileSync('build/definitions.json', 'utf8')) as Definitions
const measures = compileMeasures(definitions.measures)

/** What linkage took down beside the records. */
export interface TakenDown {
  readonly contradictions: readonly Contradiction[]
  readonly doubts: readonly Doubt[]
  /** Fields of which a value was met that cannot be read. */
  readonly unreadable: readonly FieldName[]
  readonly unmatched: readonly Unmatched[]
  /** Rungs that a field rests on. */
  rungsOf(field: FieldName): Rung[]
}

export interface Asked {
  readonly records: Colonoscopy[]
  readonly rows: AnswerRow[]
  readonly leftOut: readonly { reference: string; reason: string }[]
  /** Answer of the only examination to a measure. */
  answer(measure: string): Answer
  /** The only record. */
  only(): Colonoscopy
  /** How many of the rows that are kept give each answer to a measure. */
  counted(measure: string, keep?: (row: AnswerRow) => boolean): Partial<Record<AnswerCode, number>>
  /** The records of the same resources in reverse order, and each of them twice: they must be the same. */
  inAnotherOrder(): Colonoscopy[]
  /** What a survey of the same resources takes down; the records must be the same with it. */
  takenDown(): TakenDown
  report(measure: string, period: { start: string; end: string }): Omit<MeasureResult, 'leftOut' | 'incomplete'>
}

/**
 * Sends a story's resources through linkage and every measure, as of a civil date or an instant.
 *
 * @param period civil dates asked for, which the window is too
 */
export function ask(
  resources: readonly unknown[],
  asOf = '2027-01-01',
  source: Source = northmoor,
  period: Window = { start: '2020-01-01', end: '2030-12-31' },
): Asked {
  const moment = readMoment(asOf, source.zone)
  const instant = moment?.instant ?? Date.parse(`${asOf}T20:00:00Z`)
  const context = {
    source,
    codes: new Codes(definitions.resources, source.conceptMaps),
    window: period,
    period,
    asOf: instant,
  }
  const linked = linkWindow(resources, context)
  const rows = linked.colonoscopies.map((one) => answerRow(one, measures, source, instant))
  const indexOf = (id: string) => {
    const index = definitions.measures.findIndex((measure) => measure.id === id)
    if (index < 0) throw new Error(`no measure ${id}`)
    return index
  }
  const records = linked.colonoscopies.map(({ record }) => record)
  return {
    records,
    rows,
    leftOut: linked.leftOut,
    answer(id) {
      const [row, ...more] = rows
      const answer = row?.answers[indexOf(id)]
      if (answer === undefined || more.length > 0) throw new Error(`one examination expected, ${rows.length} linked`)
      return answer
    },
    only() {
      const [record, ...more] = records
      if (record === undefined || more.length > 0) throw new Error(`one examination expected, ${rows.length} linked`)
      return record
    },
    counted(id, keep = () => true) {
      const index = indexOf(id)
      const counts: Partial<Record<AnswerCode, number>> = {}
      for (const { answers } of rows.filter(keep)) {
        const { code } = answers[index] as Answer
        counts[code] = (counts[code] ?? 0) + 1
      }
      return counts
    },
    inAnotherOrder() {
      const reversed = [...resources].reverse()
      return linkWindow([...reversed, ...reversed], context).colonoscopies.map(({ record }) => record)
    },
    takenDown() {
      const survey = new Survey()
      const again = linkWindow(resources, { ...context, survey })
      expect(again.colonoscopies.map(({ record }) => record)).toEqual(records)
      const trails = survey.examinations.map(({ trail }) => trail)
      return {
        contradictions: trails.flatMap(({ contradictions }) => contradictions.map(({ kind }) => kind)),
        doubts: trails.flatMap(({ doubts }) => doubts.map(({ kind }) => kind)),
        unreadable: trails.flatMap(({ unreadable }) => unreadable.map(({ field }) => field)),
        unmatched: [...survey.unmatched.values()],
        rungsOf: (field) =>
          trails.flatMap(({ evidence }) => evidence.filter((one) => one.field === field).map(({ rung }) => rung)),
      }
    },
    report(id, period) {
      const index = indexOf(id)
      const measure = definitions.measures[index]
      if (measure === undefined) throw new Error(`no measure ${id}`)
      return tally(
        { measure, index, period, asOf: new Date(instant).toISOString(), asOfDate: civilDate(instant, source.zone) },
        rows,
        [source],
      )
    },
  }
}
