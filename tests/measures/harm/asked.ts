import type { Source } from '../../../src/config.ts'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import type { Answer } from '../../../src/tally/answer.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'
import { answerRow } from '../../../src/tally/answer-row.ts'
import type { MeasureResult } from '../../../src/tally/result.ts'
import { tally } from '../../../src/tally/tally.ts'
import { northmoor } from '../../stories/northmoor.ts'
import { measureOf } from '../measure-of.ts'

const longAgo = 1000

/**
 * What a record answers to a published measure.
 *
 * @param daysLater days from the examination to the day on which the record is read
 */
export const answerOn = (id: string, record: Colonoscopy, daysLater = longAgo, eventLagDays = 0): Answer =>
  answerOf(measureOf(id), record, { day: 20_000, asOfDay: 20_000 + daysLater, pathologyLagDays: 60, eventLagDays })

/** What is counted beside a record's answer, in the words of the measure. */
export const besideOn = (id: string, record: Colonoscopy): string[] =>
  (answerOn(id, record).besides ?? []).map((place) => measureOf(id).definition.besides[place]?.description ?? '')

/** A measure over March 2026, read a year later: each record so many times. */
export function reportOn(
  id: string,
  kinds: readonly (readonly [count: number, record: Colonoscopy])[],
  source: Partial<Source> = {},
): Omit<MeasureResult, 'leftOut' | 'incomplete'> {
  const asOf = Date.parse('2027-06-01T12:00:00Z')
  const measure = measureOf(id)
  const sources = [{ ...northmoor, ...source }] as const
  let serial = 0
  const rows = kinds.flatMap(([count, record]) => {
    const row = answerRow({ record, date: '2026-03-10', seen: ['polyps'] }, [measure], sources[0], asOf)
    return Array.from({ length: count }, () => ({ ...row, procedure: `Procedure/${++serial}` }))
  })
  return tally(
    {
      measure: measure.definition,
      index: 0,
      period: { start: '2026-03-01', end: '2026-03-31' },
      asOf: new Date(asOf).toISOString(),
      asOfDate: '2027-06-01',
    },
    rows,
    sources,
  )
}
