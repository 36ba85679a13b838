import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { feedKinds } from '../../../src/record/field.ts'
import { answerRow } from '../../../src/tally/answer-row.ts'
import type { GroupResult } from '../../../src/tally/result.ts'
import { tally } from '../../../src/tally/tally.ts'
import { northmoor } from '../../stories/northmoor.ts'
import { type Facts, measureOf, ordinary } from '../measure-of.ts'

const period = { start: '2026-01-01', end: '2026-12-31' }
const [asOf, asOfDate] = ['2027-12-31T12:00:00.000Z', '2027-12-31']

/** What a measure makes of examinations of one day that are ordinary but for some facts, all of them settled long since. */
export function resultOf(id: string, examinations: readonly Facts[]): GroupResult {
  const measure = measureOf(id)
  const rows = examinations.map((facts, index) => {
    const record: Colonoscopy = { ...ordinary, ...facts, procedure: `Procedure/${index}` }
    return answerRow({ record, date: '2026-03-10', seen: [...feedKinds] }, [measure], northmoor, Date.parse(asOf))
  })
  return tally({ measure: measure.definition, index: 0, period, asOf, asOfDate }, rows, [northmoor]).whole
}

/** So many examinations of the same facts. */
export const times = (count: number, facts: Facts): Facts[] => Array.from({ length: count }, () => facts)
