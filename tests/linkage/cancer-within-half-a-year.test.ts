import { describe, expect, it } from 'vitest'
import { condition } from '../stories/also-recorded.ts'
import { ask } from '../stories/ask.ts'
import { examination, fact, pathology, type Resource, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// Cancers up to 6 months after a colonoscopy count as detected by it (World Endoscopy Organization 2018, formula read; window from
// memory). 183 days are this service's reading: 2026-03-10 to 2026-09-09 is 183 days, to 2026-09-10 184 (civil calendar).
const undeclared = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'cancers') }
const cancer = (more: Resource, id = 'c', code = fact('colorectal-cancer')) => condition('a', id, code, more)

function within(resources: Resource[], source = northmoor, asOf = '2027-06-01') {
  const story = ask([...examination({ id: 'a' }), ...resources], asOf, source)
  expect(story.inAnotherOrder()).toEqual(story.records)
  return { value: story.only().cancerWithinSixMonths, later: story.only().laterColorectalCancer, ...story.takenDown() }
}

describe('cancer at the examination or within 183 days', () => {
  it.each<[string, boolean]>([
    ['2026-03-10', true],
    ['2026-09-09', true],
    ['2026-09-10', false],
  ])('diagnosed on %s: %s', (onsetDateTime, told) => {
    expect(within([cancer({ onsetDateTime })]).value).toBe(told)
  })

  it('is dated by its recording where no onset is written', () => {
    expect(within([cancer({ recordedDate: '2026-04-01' })], undeclared).value).toBe(true)
  })

  it('is found by the histology of the examination', () => {
    const polyps = [{ handling: 'biopsied', specimen: 'pot' } as const]
    // SNOMED CT 1187332001: adenocarcinoma.
    const resources = [
      ...examination({ id: 'a', polyps }),
      ...pathology('p', { issued: '2026-03-14T10:00:00Z', results: [{ specimen: 'pot', code: '1187332001' }] }),
    ]
    expect(ask(resources, '2026-03-20', undeclared).only().cancerWithinSixMonths).toBe(true)
  })

  it.each<[string, Resource]>([
    ['of a month that reaches over the end', { onsetDateTime: '2026-09' }],
    ['that began before, and was recorded after', { onsetDateTime: '2026-01-15', recordedDate: '2026-03-20' }],
    [
      'that nobody has confirmed',
      { onsetDateTime: '2026-04-01', verificationStatus: { coding: [{ code: 'provisional' }] } },
    ],
    ['without a date', {}],
    ['that began in words alone', { onsetString: 'this spring', recordedDate: '2026-12-01' }],
  ])('is left open by one %s', (_, more) => {
    expect(within([cancer(more)]).value).toBeUndefined()
  })

  it('is left open where one was known before, and not where only that one is recorded', () => {
    const before = cancer({ onsetDateTime: '2019-02-01', recordedDate: '2019-02-03' }, 'old')
    expect(within([before, cancer({ onsetDateTime: '2026-04-01' })]).value).toBeUndefined()
    expect(within([before]).value).toBe(false)
  })

  it('is not told by a refuted one, nor by one that nobody knew of yet', () => {
    const refuted = { onsetDateTime: '2026-04-01', verificationStatus: { coding: [{ code: 'refuted' }] } }
    expect(within([cancer(refuted)]).value).toBe(false)
    const known = cancer({ onsetDateTime: '2026-04-01', recordedDate: '2027-08-01' })
    expect(within([known]).value).toBe(false)
    expect(within([known], northmoor, '2027-09-01').value).toBe(true)
  })

  it('was none only in a complete feed, and once the 183 days are over', () => {
    expect(within([], northmoor, '2026-09-10').value).toBe(false)
    expect(within([], northmoor, '2026-09-09').value).toBeUndefined()
    expect(within([], undeclared).value).toBeUndefined()
  })

  it('is never a later one as well', () => {
    for (const onsetDateTime of [
      '2026-03-10',
      '2026-09-09',
      '2026-09-10',
      '2026-12-01',
      '2026-09',
      '2026',
      '2025-01-01',
    ]) {
      const { value, later } = within([cancer({ onsetDateTime }, 'c', snomed('363406005'))])
      expect(value === true && later === true, onsetDateTime).toBe(false)
    }
  })
})
