import { describe, expect, it } from 'vitest'
import type { AnswerRow } from '../../src/tally/answer-row.ts'
import { ask } from './ask.ts'
import { examination, pathology, tubularAdenoma, word } from './examination.ts'
import { measureIds } from './expectations.ts'

// What of this story is about records and answers: who is counted, in which stratum, by which attachment. The comparison itself
// (adjusted differences, limits, operators who cannot be told apart from the attachment) has tests of its own with the
// statistics. US 2024 measures positive screening tests apart (guideline digest, read); UK 2016 has them outside its workload.
type Attachment = 'before-insertion' | 'none'

/** Some examinations of one operator, one reason and one arm, the first of which have an adenoma. */
function list(operator: string, reason: string, attachment: Attachment, withAdenoma: number, count: number) {
  return Array.from({ length: count }, (_, index) => {
    const id = `${operator}-${reason}-${attachment}-${index}`
    const found = index < withAdenoma
    return [
      ...examination({
        id,
        operator,
        reasons: [reason],
        said: [word('distal-attachment', attachment)],
        polyps: found ? [{ handling: 'removed', specimen: `pot-${id}` }] : [],
      }),
      ...(found
        ? pathology(`report-${id}`, {
            issued: '2026-03-14T10:00:00Z',
            results: [{ specimen: `pot-${id}`, code: tubularAdenoma }],
          })
        : []),
    ]
  }).flat()
}

const twoHundred = [
  ...list('k', 'positive-screening-test', 'before-insertion', 44, 80),
  ...list('m', 'positive-screening-test', 'none', 11, 20),
  ...list('k', 'symptoms', 'before-insertion', 4, 20),
  ...list('m', 'symptoms', 'none', 16, 80),
]
const arm = (attachment: Attachment) => (row: AnswerRow) => row.attachment === attachment

describe('the list that was chosen', () => {
  const story = ask(twoHundred)

  it('every row carries its reason, its operator and its arm by intention', () => {
    const cells = (reason: string, attachment: Attachment) =>
      story.rows.filter((row) => row.referralReason === reason && row.attachment === attachment).length
    expect(cells('positive-screening-test', 'before-insertion')).toBe(80)
    expect(cells('positive-screening-test', 'none')).toBe(20)
    expect(cells('symptoms', 'before-insertion')).toBe(20)
    expect(cells('symptoms', 'none')).toBe(80)
    expect(new Set(story.rows.map(({ operator }) => operator)).size).toBe(2)
  })

  it('all adenomas are counted once: 48 in one arm and 27 in the other', () => {
    const counted = (attachment: Attachment) =>
      story.records.filter((record) => record.attachment === attachment && record.adenomaFound).length
    expect([counted('before-insertion'), counted('none')]).toEqual([48, 27])
  })

  it('under US 2024 half is measured apart, and what is left shows the same 20 per cent in both arms', () => {
    expect(story.counted(measureIds.us, arm('before-insertion'))).toEqual({ excluded: 80, met: 4, 'not-met': 16 })
    expect(story.counted(measureIds.us, arm('none'))).toEqual({ excluded: 20, met: 16, 'not-met': 64 })
  })

  it.each([
    'adenoma-detection-rate-uk-screening-programme',
    'adenoma-detection-rate-after-positive-screening-test-us-2024',
    'adenoma-detection-rate-after-any-positive-test-us-2024',
  ])('%s counts the half that is measured apart: 55 per cent in both arms', (id) => {
    expect(story.counted(id, arm('before-insertion'))).toEqual({ out: 20, met: 44, 'not-met': 36 })
    expect(story.counted(id, arm('none'))).toEqual({ out: 80, met: 11, 'not-met': 9 })
  })

  it('EU 2017 separates nothing: 48 and 27 of a hundred, in which the arms seem to differ', () => {
    const id = 'adenoma-detection-rate-eu-2017'
    expect(story.counted(id, arm('before-insertion'))).toEqual({ met: 48, 'not-met': 52 })
    expect(story.counted(id, arm('none'))).toEqual({ met: 27, 'not-met': 73 })
  })

  it('under UK 2016 the programme’s cases are outside the workload', () => {
    expect(story.counted(measureIds.uk, arm('before-insertion'))).toEqual({ out: 80, met: 4, 'not-met': 16 })
    expect(story.counted(measureIds.uk, arm('none'))).toEqual({ out: 20, met: 16, 'not-met': 64 })
  })

  it('half began with an attachment, whatever the reason, and none was recorded as removed', () => {
    expect(story.counted(measureIds.attachedBefore)).toEqual({ met: 100, 'not-met': 100 })
    expect(story.counted(measureIds.attachmentAdded)).toEqual({ 'not-met': 200 })
    // Of none is it said what became of it: not recorded, and not kept.
    expect(story.counted(measureIds.attachmentRemoved)).toEqual({ out: 100, 'not-recorded': 100 })
    expect(story.counted(measureIds.attachmentCaution)).toEqual({ out: 100, 'not-met': 100 })
    expect(story.counted(measureIds.attachmentWithheld)).toEqual({ out: 200 })
  })

  it('surveillance that one arm alone has is counted there, and leaves the other arm as it was', () => {
    const more = ask([...twoHundred, ...list('m', 'surveillance', 'none', 24, 60)])
    expect(more.counted(measureIds.us, arm('none'))).toEqual({ excluded: 20, met: 40, 'not-met': 100 })
    expect(more.counted(measureIds.us, arm('before-insertion'))).toEqual({ excluded: 80, met: 4, 'not-met': 16 })
    const surveillance = (row: AnswerRow) => row.referralReason === 'surveillance'
    expect(more.counted(measureIds.us, surveillance)).toEqual({ met: 24, 'not-met': 36 })
  })

  it('where each operator has one arm only, no cell of operator and reason holds both', () => {
    const divided = ask([
      ...list('k', 'positive-screening-test', 'before-insertion', 6, 12),
      ...list('m', 'symptoms', 'none', 3, 12),
    ])
    const cells = Map.groupBy(divided.rows, ({ operator, referralReason }) => `${operator} ${referralReason}`)
    expect([...cells.values()].map((rows) => new Set(rows.map(({ attachment }) => attachment)).size)).toEqual([1, 1])
  })
})
