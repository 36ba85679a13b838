import { describe, expect, it } from 'vitest'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'
import { coherentRecords } from '../../criteria/coherent-records.ts'
import { measureOf } from '../measure-of.ts'
import { type Facts, found, negative } from './examined.ts'
import { type Expected, expected } from './expected.ts'

// What is taken away can only make an answer unknown: here one fact of the record, or of a single polyp. Whatever was found at
// random was found in an examination that is in.
const findings = new Set(Object.keys(found()))
const records = coherentRecords(2000, 20261126).map(
  (record) => Object.fromEntries(Object.entries(record).filter(([field]) => findings.has(field))) as Facts,
)
const isIn = ({ reasons }: Expected): Colonoscopy => ({
  ...negative,
  ...Object.fromEntries([...findings].map((field) => [field, undefined])),
  referralReason: Object.entries(reasons).find(([, answer]) => answer === 'met')?.[0] as Facts['referralReason'],
})
const settled = { day: 20_000, asOfDay: 21_000, pathologyLagDays: 60, eventLagDays: 0 }
const opposite: Readonly<Record<string, string>> = { met: 'not-met', 'not-met': 'met' }

/** The record without a field, or once for each polyp that it is taken from. */
function* without(record: Colonoscopy, field: string): Generator<Colonoscopy> {
  const [name = '', part] = field.split('.')
  if (part === undefined) yield { ...record, [name]: undefined }
  else
    for (const at of (record.polyps ?? []).keys())
      yield {
        ...record,
        polyps: (record.polyps ?? []).map((polyp, place) => (place === at ? { ...polyp, [part]: undefined } : polyp)),
      }
}

describe.each(expected.map((one) => [one.id, one] as const))('%s', (id, one) => {
  it('no fact taken away turns met into not met or back', () => {
    const measure = measureOf(id)
    const { exclusion, ...deciding } = measure.definition.criteria
    const fields = new Set(Object.values(deciding).flatMap((criterion) => criterion?.fields ?? []))
    let tried = 0
    const decided = new Set<string>()
    const turned = new Set<string>()
    for (const facts of records) {
      const record = { ...isIn(one), ...facts }
      const before = answerOf(measure, record, settled).code
      if (!(before in opposite)) continue
      decided.add(before)
      for (const field of fields)
        for (const less of without(record, field)) {
          tried++
          if (answerOf(measure, less, settled).code === opposite[before]) turned.add(`${before} without ${field}`)
        }
    }
    expect([...turned]).toEqual([])
    expect(tried).toBeGreaterThan(900)
    // Of the adenomas per positive colonoscopy the value is what counts.
    expect([...decided].sort()).toEqual(id.startsWith('adenomas-per') ? ['met'] : ['met', 'not-met'])
  })
})
