import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, snomed } from '../stories/examination.ts'
import { colonoscopy, found, on } from './found-examinations.ts'

// Procedure.partOf as FHIR R4 defines it: a larger event of which this procedure is a component or step. That the larger one must
// count, and be of the same day, is this service's own rule.
const partOf = (...ids: string[]) => ({ partOf: ids.map((id) => ({ reference: `Procedure/${id}` })) })
const whole = colonoscopy('whole', on('2026-03-10T09:00:00Z'))
const part = (more: object = {}) => colonoscopy('part', { ...on('2026-03-10T09:20:00Z'), ...partOf('whole'), ...more })

describe('a colonoscopy’s code on a part of another colonoscopy', () => {
  it.each([
    ['of its day', {}],
    ['of its day, without a time', on('2026-03-10')],
    ['without a date', { performedDateTime: undefined }],
    ['that says nothing of whether it was done', { status: 'unknown' }],
  ])('%s makes no examination, and nothing is left out', (_, more) => {
    expect(found([whole, part(more)])).toMatchObject({ groups: [['whole']], leftOut: [] })
  })

  it('is a part after midnight too, where the whole went on', () => {
    const night = colonoscopy('whole', {
      performedPeriod: { start: '2026-03-10T23:40:00Z', end: '2026-03-11T00:20:00Z' },
    })
    expect(found([night, part(on('2026-03-11T00:10:00Z'))]).groups).toEqual([['whole']])
  })

  it('is a part of a part', () => {
    const further = colonoscopy('further', { ...on('2026-03-10T09:25:00Z'), ...partOf('part') })
    expect(found([whole, part(), further]).groups).toEqual([['whole']])
  })

  it('is used as what was done in the whole', () => {
    const polypectomy = {
      ...part({ code: snomed('446521004'), subject: { reference: 'Patient/patient-a' } }),
      ...partOf('a'),
    }
    expect(ask([...examination({ id: 'a' }), polypectomy]).only()).toMatchObject({
      procedure: 'Procedure/a',
      polypRemoved: true,
    })
  })
})

describe('a colonoscopy stands on its own', () => {
  it('where what it names is of another day, whether or not that came with it', () => {
    const later = part(on('2026-03-28'))
    expect(found([whole, later]).groups).toEqual([['part'], ['whole']])
    expect(found([later]).groups).toEqual([['part']])
  })

  it.each(['entered-in-error', 'not-done', 'in-progress', 'unknown'])('where what it names is %s', (status) => {
    const { groups, leftOut } = found([{ ...whole, status }, part()])
    expect(groups).toEqual([['part']])
    expect(leftOut.map(([id]) => id)).toEqual(['whole'])
  })

  it('where it is of another patient', () => {
    expect(found([whole, part({ subject: { reference: 'Patient/q' } })]).groups).toEqual([['part'], ['whole']])
  })

  it('where it names itself, or two name each other', () => {
    expect(found([colonoscopy('one', { ...on('2026-03-10'), ...partOf('one') })]).groups).toEqual([['one']])
    const [one, other] = [
      colonoscopy('one', { ...on('2026-03-10T09:00:00Z'), ...partOf('other') }),
      colonoscopy('other', { ...on('2026-03-10T15:00:00Z'), ...partOf('one') }),
    ]
    expect(found([one, other]).groups).toEqual([['one'], ['other']])
    expect(
      found([one, other, { ...part(), ...partOf('one') }])
        .groups.flat()
        .sort(),
    ).toEqual(['one', 'other', 'part'])
  })
})
