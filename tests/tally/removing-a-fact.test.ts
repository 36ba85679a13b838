import { describe, expect, it } from 'vitest'
import { compile } from '../../src/criteria/compile.ts'
import type { Criterion } from '../../src/criteria/criterion.ts'
import { compileMeasure } from '../../src/measures/compiled-measure.ts'
import type { MeasureDefinition } from '../../src/measures/measure.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { answerOf } from '../../src/tally/answer-of.ts'
import { coherentRecords } from '../criteria/coherent-records.ts'
import { definitions } from '../stories/ask.ts'

// The law of three-valued logic that the record is built for: what is taken away can only make an answer unknown.
const records = coherentRecords(600, 20261125)
const settled = { day: 20_000, asOfDay: 22_000, pathologyLagDays: 60, eventLagDays: 0 }

/** A record as it would be had one fact, or one fact of every polyp, not been recorded. */
function without(record: Colonoscopy, field: string): Colonoscopy {
  const [name = '', part] = field.split('.')
  if (part === undefined) return { ...record, [name]: undefined }
  return { ...record, polyps: record.polyps?.map((polyp) => ({ ...polyp, [part]: undefined })) }
}

/** Facts of which a criterion asks only whether they were recorded: taking one of these away is the answer itself. */
const askedAfter = ({ expression }: Criterion): string[] =>
  [...expression.matchAll(/(\w+)\.(?:exists|empty)\(\)/g)].map(([, name]) => name ?? '')

/** Criteria that decide an answer; sums are bounded and not decided, and what is counted beside is what is recorded. */
const tests = ({ criteria }: MeasureDefinition): Criterion[] =>
  [criteria.initialPopulation, criteria.denominator, criteria.exclusion, criteria.exception, criteria.numerator].filter(
    (criterion) => criterion !== undefined,
  )

describe.each(definitions.measures.map((measure) => [measure.id, measure] as const))('%s', (_, measure) => {
  it('removing a fact never turns a criterion from true to false or back, only to unknown', () => {
    const turned: string[] = []
    for (const criterion of tests(measure)) {
      const answer = compile(criterion.ast)
      const fields = criterion.fields.filter((field) => !askedAfter(criterion).includes(field))
      for (const record of records) {
        const before = answer(record)
        if (before === undefined) continue
        for (const field of fields) {
          const after = answer(without(record, field))
          if (after !== undefined && after !== before) turned.push(`${criterion.expression} without ${field}`)
        }
      }
    }
    expect([...new Set(turned)]).toEqual([])
  })

  it('removing a fact never turns met into not met or back', () => {
    const compiled = compileMeasure(measure)
    const { exclusion: _, ...deciding } = measure.criteria
    const criteria = Object.values(deciding)
    const asked = criteria.flatMap(askedAfter)
    const fields = new Set(criteria.flatMap((criterion) => criterion.fields).filter((field) => !asked.includes(field)))
    const opposite: Record<string, string> = { met: 'not-met', 'not-met': 'met' }
    const turned: string[] = []
    for (const record of records) {
      const before = answerOf(compiled, record, settled).code
      if (!(before in opposite)) continue
      for (const field of fields)
        if (answerOf(compiled, without(record, field), settled).code === opposite[before]) turned.push(field)
    }
    expect([...new Set(turned)]).toEqual([])
  })
})

it('the records decide most measures, so that the law is not kept by silence', () => {
  const decided = definitions.measures.filter((measure) => {
    const compiled = compileMeasure(measure)
    return records.some((record) => ['met', 'not-met'].includes(answerOf(compiled, record, settled).code))
  })
  expect(decided.length / definitions.measures.length).toBeGreaterThan(0.8)
})
