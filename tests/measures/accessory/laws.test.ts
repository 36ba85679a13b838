import { expect, it } from 'vitest'
import { variedRecords } from '../../criteria/varied-records.ts'
import { answerOn } from '../harm/asked.ts'
import { measureOf } from '../measure-of.ts'

const records = variedRecords(3000, 20261127)
const code = (id: string, record: (typeof records)[number]) => answerOn(id, record).code

const before = 'attachment-before-insertion-share-descriptive'
const later = 'attachment-added-later-share-descriptive'
const removed = 'attachment-removed-share-descriptive'
const detached = 'attachment-detached-share-descriptive'
const used = 'attachment-with-recorded-caution-share-descriptive'
const withheld = 'attachment-withheld-with-recorded-caution-share-descriptive'
const settled = records.filter((record) => record.attachment !== undefined)

it('from the start, added later and none add up to all whose attachment is recorded', () => {
  const met = (id: string) => settled.filter((record) => code(id, record) === 'met').length
  const none = settled.filter(({ attachment }) => attachment === 'none').length
  expect(none).toBeGreaterThan(20)
  expect(met(before) + met(later) + none).toBe(settled.length)
})

it('taken off, lost and kept never overlap', () => {
  let either = 0
  for (const record of records) {
    const both = [removed, detached].filter((id) => code(id, record) === 'met')
    expect(both.length).toBeLessThan(2)
    either += both.length
  }
  expect(either).toBeGreaterThan(20)
})

it('a recorded caution is either used with an attachment or without one', () => {
  let cautioned = 0
  for (const record of settled) {
    if (code(withheld, record) === 'eligibility-not-recorded' || code(withheld, record) === 'out') continue
    cautioned++
    expect(code(withheld, record)).toBe(record.attachment === 'none' ? 'met' : 'not-met')
    expect(code(used, record)).toBe(record.attachment === 'none' ? 'out' : 'met')
  }
  expect(cautioned).toBeGreaterThan(20)
})

it('all are descriptive, without a standard or a wish for more or fewer, but that none be lost', () => {
  const ids = [
    before,
    later,
    removed,
    'attachment-reinserted-share-descriptive',
    used,
    withheld,
    'attachment-with-trial-exclusion-share-descriptive',
    'attachment-left-on-after-finding-share-descriptive',
  ]
  for (const id of ids) {
    const { standard, improvement, resource } = measureOf(id).definition
    expect([standard, improvement]).toEqual([undefined, undefined])
    expect(resource.disclaimer).toContain('is the clinician’s decision')
  }
  expect(measureOf(detached).definition.improvement).toBe('decrease')
})
