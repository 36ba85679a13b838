import { describe, expect, it } from 'vitest'
import { readLaterCancer } from '../../src/linkage/later-cancer.ts'
import { condition } from '../stories/also-recorded.ts'
import { examination, fact, type Resource, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { oneExamination } from './one-examination.ts'

// Beyond 6 months is the World Endoscopy Organization's definition of a cancer after colonoscopy (2018, from memory); 183 days are
// this service's reading of it. 2026-03-10 to 2026-09-09 is 183 days, to 2026-09-10 184 (civil calendar).
const undeclared = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'cancers') }
const none = { laterColorectalCancer: undefined, laterColorectalCancerDay: undefined }
let serial = 0
const cancer = (more: Resource, code = fact('colorectal-cancer')) => condition('a', `cancer-${++serial}`, code, more)

function later(conditions: Resource[], source = northmoor, asOf = '2030-01-01', cancerCount?: number) {
  const one = oneExamination([...examination({ id: 'a' }), ...conditions], source, asOf)
  return { ...one, facts: readLaterCancer(one.examination, one.conditions, cancerCount, one.reading) }
}

describe('a colorectal cancer', () => {
  it('is a later one from day 184 on', () => {
    expect(later([cancer({ onsetDateTime: '2026-09-10' })], undeclared).facts).toEqual({
      laterColorectalCancer: true,
      laterColorectalCancerDay: 184,
    })
    expect(later([cancer({ onsetDateTime: '2026-09-09' })]).facts).toEqual(none)
  })

  it('counts from its onset, and from its recording where no onset is written', () => {
    const written = cancer({ onsetDateTime: '2026-12-10', recordedDate: '2027-02-01' })
    expect(later([written]).facts.laterColorectalCancerDay).toBe(275)
    expect(later([cancer({ recordedDate: '2026-12-10' })]).facts.laterColorectalCancerDay).toBe(275)
  })

  it('whose month is certainly later has no day; whose year is not, leaves it open', () => {
    expect(later([cancer({ onsetDateTime: '2027-05' })]).facts).toEqual({ ...none, laterColorectalCancer: true })
    expect(later([cancer({ onsetDateTime: '2026' })]).facts).toEqual(none)
  })

  it('told twice is of the first day, unless a coarser telling may be earlier', () => {
    const dated = [cancer({ onsetDateTime: '2027-05-10' }), cancer({ onsetDateTime: '2027-03-10' })]
    expect(later(dated).facts.laterColorectalCancerDay).toBe(365)
    expect(later([...dated, cancer({ onsetDateTime: '2027-02' })]).facts).toEqual({
      ...none,
      laterColorectalCancer: true,
    })
  })

  it('recorded before, at the examination, or as one of the past cannot be told from a later one', () => {
    const recorded = cancer({ onsetDateTime: '2028-01-01' })
    expect(later([cancer({ onsetDateTime: '2019' }), recorded]).facts).toEqual(none)
    expect(later([cancer({ onsetDateTime: '2026-03-10' }), recorded]).facts).toEqual(none)
    const past = oneExamination(examination({ id: 'a' })).reading.codes.codesIn('past-colorectal-cancer')[0] ?? ''
    expect(later([cancer({ recordedDate: '2028-01-01' }, snomed(past))]).facts).toEqual(none)
  })

  it('found by the histology of the examination cannot be told from a later one', () => {
    const recorded = [cancer({ recordedDate: '2026-11-01' })]
    expect(later(recorded, northmoor, '2030-01-01', 1).facts).toEqual(none)
    for (const count of [0, undefined])
      expect(later(recorded, northmoor, '2030-01-01', count).facts.laterColorectalCancer).toBe(true)
  })

  it('that was over before the examination is none, whenever it was recorded', () => {
    for (const ended of [{ abatementDateTime: '2010' }, { abatementAge: { value: 44, code: 'a' } }])
      expect(later([cancer({ ...ended, recordedDate: '2026-12-01' })]).facts).toEqual(none)
  })

  it('that began at an age is of a year of life: later, or left open by it', () => {
    // The patient was born on 1966-01-01 and is 60 on the day; 62 is the year 2028, 60 the year of the examination.
    const atAge = (value: number) => later([cancer({ onsetAge: { value, code: 'a' }, recordedDate: '2029-06-01' })])
    expect(atAge(62).facts).toEqual({ ...none, laterColorectalCancer: true })
    expect(atAge(60).facts).toEqual(none)
  })

  it('that began at some time, in words, or is not confirmed, leaves it open', () => {
    const { facts, trail } = later([cancer({ onsetString: 'in his sixties', recordedDate: '2028-01-01' })])
    expect(facts).toEqual(none)
    expect(trail.unreadable.map(({ field }) => field)).toEqual(['laterColorectalCancer'])
    const provisional = { verificationStatus: { coding: [{ code: 'provisional' }] }, onsetDateTime: '2028-01-01' }
    expect(later([cancer(provisional)]).facts).toEqual(none)
    const refuted = { verificationStatus: { coding: [{ code: 'refuted' }] }, onsetDateTime: '2028-01-01' }
    expect(later([cancer(refuted)]).facts.laterColorectalCancer).toBe(false)
  })

  it('is not known before it is recorded', () => {
    const recorded = cancer({ onsetDateTime: '2027-01-01', recordedDate: '2027-03-01' })
    expect(later([recorded], undeclared, '2027-02-28').facts).toEqual(none)
    expect(later([recorded], undeclared, '2027-03-01').facts.laterColorectalCancer).toBe(true)
  })

  it('that nobody recorded is none only in a complete feed', () => {
    expect(later([]).facts.laterColorectalCancer).toBe(false)
    expect(later([], undeclared).facts).toEqual(none)
  })
})
