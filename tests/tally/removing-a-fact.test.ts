import { describe, expect, it } from 'vitest'
import { compile } from '../../src/criteria/compile.ts'
import type { Criterion } from '../../src/criteria/criterion.ts'
import { compileMeasure } from '../../src/measures/compiled-measure.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { answerOf } from '../../src/tally/answer-of.ts'
import { variedRecords } from '../criteria/varied-records.ts'
import { definitions } from '../stories/ask.ts'

// The law of three-valued logic that the record is built for: what is taken away can only make an answer unknown.
const records = variedRecords(3000, 20261125)
const settled = { day: 20_000, asOfDay: 21_000, pathologyLagDays: 60, eventLagDays: 0 }

/** A record as it would be had one fact, or one fact of every polyp, not been recorded. */
function without(record: Colonoscopy, field: string): Colonoscopy {
  const [name = '', part] = field.split('.')
  if (part === undefined) return { ...record, [name]: undefined }
  return { ...record, polyps: record.polyps?.map((polyp) => ({ ...polyp, [part]: undefined })) ?? [] }
}

describe.each(definitions.measures.map((measure) => [measure.id, measure] as const))('%s', (_, measure) => {
  const criteria = Object.entries(measure.criteria) as [string, Criterion][]

  it('removing a fact never turns a criterion from true to false or back, only to unknown', () => {
    let tried = 0
    for (const [name, criterion] of criteria) {
      const answer = compile(criterion.ast)
      for (const record of records) {
        const before = answer(record)
        if (before === undefined) continue
        for (const field of criterion.fields) {
          tried++
          expect([before, undefined], `${name} without ${field}`).toContain(answer(without(record, field)))
        }
      }
    }
    expect(tried).toBeGreaterThan(0)
  })

  it('removing a fact never turns met into not met or back', () => {
    const compiled = compileMeasure(measure)
    const fields = new Set(
      criteria.filter(([name]) => name !== 'exclusion').flatMap(([, criterion]) => criterion.fields),
    )
    const opposite: Record<string, string> = { met: 'not-met', 'not-met': 'met' }
    let decided = 0
    for (const record of records) {
      const before = answerOf(compiled, record, settled).code
      if (!(before in opposite)) continue
      decided++
      for (const field of fields)
        expect(answerOf(compiled, without(record, field), settled).code, field).not.toBe(opposite[before])
    }
    expect(decided).toBeGreaterThan(20)
  })
})
