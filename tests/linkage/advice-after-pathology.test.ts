import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, pathology, type Resource, type Said, tubularAdenoma, word } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// "Not older than the final pathology" is the record's own definition. Civil dates are London's; a time decides within a day.
const signed = (issued: string | undefined, more: Resource = {}): Said =>
  word('advice', 'repeat-colonoscopy', { ...(issued !== undefined && { issued }), ...more })
const report = (issued: string, more: { id?: string; status?: string } = {}): Resource[] =>
  pathology(more.id ?? 'p', { issued, ...more, results: [{ specimen: 'pot', code: tubularAdenoma }] })

function judged(said: Said[], reports: Resource[], asOf = '2027-01-01', source = northmoor, procedure: Resource = {}) {
  const polyps = [{ handling: 'removed', specimen: 'pot' } as const]
  const story = ask([...examination({ id: 'a', said, polyps, procedure }), ...reports], asOf, source)
  expect(story.inAnotherOrder()).toEqual(story.records)
  return { value: story.only().adviceAfterPathology, ...story.takenDown() }
}

describe('advice after pathology', () => {
  it('was given where the latest signed advice is not older than the final report', () => {
    const issued = '2026-03-14T10:00:00Z'
    expect(judged([signed('2026-03-16T09:00:00Z')], report(issued)).value).toBe(true)
    expect(judged([signed('2026-03-10T10:00:00Z')], report(issued)).value).toBe(false)
    expect(judged([signed('2026-03-10T10:00:00Z'), signed('2026-03-16T09:00:00Z')], report(issued)).value).toBe(true)
    // A draft is no advice.
    const draft = signed('2026-03-16T09:00:00Z', { status: 'preliminary' })
    expect(judged([signed('2026-03-10T10:00:00Z'), draft], report(issued)).value).toBe(false)
  })

  it('on one day times decide, and without them nothing does', () => {
    const issued = '2026-03-14T10:00:00Z'
    expect(judged([signed('2026-03-14T10:00:00Z')], report(issued)).value).toBe(true)
    expect(judged([signed('2026-03-14T09:59:00Z')], report(issued)).value).toBe(false)
    expect(judged([signed('2026-03-14')], report(issued)).value).toBeUndefined()
  })

  it('without a date of signing was given no earlier than what it is of', () => {
    const issued = '2026-03-14T10:00:00Z'
    const of = (effectiveDateTime: string) => judged([signed(undefined, { effectiveDateTime })], report(issued))
    expect(of('2026-03-16T09:00:00Z')).toMatchObject({ value: true, unreadable: [] })
    expect(of('2026-03-10T09:00:00Z')).toMatchObject({ value: undefined, unreadable: ['adviceAfterPathology'] })
  })

  it('is measured by the version of the report that stands', () => {
    const versions = [
      ...report('2026-03-14T10:00:00Z'),
      ...report('2026-03-20T10:00:00Z', { id: 'q', status: 'amended' }),
    ]
    expect(judged([signed('2026-03-16T09:00:00Z')], versions).value).toBe(false)
    expect(judged([signed('2026-03-21T09:00:00Z')], versions).value).toBe(true)
    // As of the 18th nobody knew of the amendment.
    expect(judged([signed('2026-03-16T09:00:00Z')], versions, '2026-03-18').value).toBe(true)
  })

  it('in the procedure itself is of the examination’s day', () => {
    const procedure = { followUp: [fact('clinic-review')] }
    expect(judged([], report('2026-03-14T10:00:00Z'), '2027-01-01', northmoor, procedure).value).toBe(false)
  })

  it('has nothing to wait for where no pathology was sent', () => {
    const story = ask(examination({ id: 'a', said: [signed('2026-03-10T10:00:00Z')] }))
    expect(story.only()).toMatchObject({ pathology: 'not-sent', adviceAfterPathology: true })
    expect(ask(examination({ id: 'a' })).only().adviceAfterPathology).toBeUndefined()
  })

  it('is not recorded while pathology is open, where it never came, and without advice', () => {
    const advised = [signed('2026-03-16T09:00:00Z')]
    expect(judged(advised, [], '2026-03-20').value).toBeUndefined()
    expect(judged(advised, [], '2027-01-01').value).toBeUndefined()
    expect(judged([], report('2026-03-14T10:00:00Z')).value).toBeUndefined()
  })

  it('is not recorded where a date is missing or too coarse, and that is listed', () => {
    const told = judged([signed(undefined)], report('2026-03-14T10:00:00Z'))
    expect(told).toMatchObject({ value: undefined, unreadable: ['adviceAfterPathology'] })
    expect(judged([signed('2026-03-16T09:00:00Z')], report('2026-03'))).toMatchObject({
      value: undefined,
      unreadable: ['adviceAfterPathology'],
    })
  })
})
