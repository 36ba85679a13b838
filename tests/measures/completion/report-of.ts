import { answerRow } from '../../../src/tally/answer-row.ts'
import type { MeasureResult } from '../../../src/tally/result.ts'
import { tally } from '../../../src/tally/tally.ts'
import { northmoor } from '../../stories/northmoor.ts'
import { type Facts, measureOf, ordinary } from '../measure-of.ts'

/**
 * A measure over a year of examinations, each kind of them so many times, ordinary but for some facts.
 *
 * @param kinds number of examinations, and the facts in which they differ from the ordinary
 */
export function reportOf(
  id: string,
  kinds: readonly (readonly [count: number, facts: Facts])[],
): Omit<MeasureResult, 'leftOut' | 'incomplete'> {
  const asOf = Date.parse('2027-06-01T12:00:00Z')
  const measure = measureOf(id)
  const rows = kinds.flatMap(([count, facts]) => {
    const record = { ...ordinary, ...facts }
    const row = answerRow({ record, date: '2026-03-10', seen: ['polyps', 'photographs'] }, [measure], northmoor, asOf)
    return Array.from({ length: count }, (_, index) => ({ ...row, procedure: `Procedure/${index}` }))
  })
  return tally(
    {
      measure: measure.definition,
      index: 0,
      period: { start: '2026-01-01', end: '2026-12-31' },
      asOf: new Date(asOf).toISOString(),
      asOfDate: '2027-06-01',
    },
    rows,
    [northmoor],
  )
}
