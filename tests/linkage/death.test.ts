import { describe, expect, it } from 'vitest'
import { readDeath } from '../../src/linkage/death.ts'
import { ask } from '../stories/ask.ts'
import { examination, type Resource } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { oneExamination } from './one-examination.ts'

// Patient.deceased[x]: FHIR R4 (4.0.1). Days are counted on the civil calendar: 2026-03-10 to 2026-04-09 is 30. What is recorded of
// which writing is this service's own rule. The examination began at 09:00 on 2026-03-10.
const undeclared = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'deaths') }

function death(person: Resource, source = northmoor, asOf?: string) {
  const one = oneExamination(examination({ id: 'a', person }), source, asOf)
  return { ...one, facts: readDeath(one.examination, one.reading.resources.ofType('Patient'), one.reading) }
}

describe('a death', () => {
  it.each<[string, number | undefined]>([
    ['2026-03-10', 0],
    ['2026-04-09', 30],
    ['2026-04-09T23:30:00+01:00', 30],
    ['2026-04', undefined],
    ['2026', undefined],
  ])('dated %s is of day %s', (deceasedDateTime, deathDay) => {
    expect(death({ deceasedDateTime }, undeclared).facts).toEqual({ death: true, deathDay })
  })

  it('without a date has no day', () => {
    expect(death({ deceasedBoolean: true }).facts).toEqual({ death: true, deathDay: undefined })
  })

  it.each(['2026-03-09', '2026-02', '2025', '2026-03-10T08:59:00Z'])(
    'dated %s, before the examination, contradicts it: listed, nothing recorded',
    (deceasedDateTime) => {
      const { facts, trail } = death({ deceasedDateTime })
      expect(facts).toEqual({ death: undefined, deathDay: undefined })
      expect(trail.contradictions.map(({ kind }) => kind)).toEqual(['death before the examination'])
    },
  )

  it('on a date that cannot be read is listed, and not read as life', () => {
    const { facts, trail } = death({ deceasedDateTime: 'in spring' })
    expect(facts.death).toBeUndefined()
    expect(trail.unreadable.map(({ field }) => field)).toEqual(['death'])
  })

  it('of which only the absence of its date is told is not read as life', () => {
    const url = 'http://hl7.org/fhir/StructureDefinition/data-absent-reason'
    const absent = { _deceasedDateTime: { extension: [{ url, valueCode: 'unknown' }] } }
    expect(death(absent).facts.death).toBeUndefined()
  })

  it('after the as-of day is not known yet', () => {
    expect(death({ deceasedDateTime: '2026-04-09' }, northmoor, '2026-04-08').facts.death).toBe(false)
    expect(death({ deceasedDateTime: '2026-04-09' }, undeclared, '2026-04-08').facts.death).toBeUndefined()
    expect(death({ deceasedDateTime: '2026-04-09' }, undeclared, '2026-04-09').facts.death).toBe(true)
  })
})

describe('life', () => {
  it('is recorded where it is said, or in a complete feed of deaths', () => {
    expect(death({ deceasedBoolean: false }, undeclared).facts.death).toBe(false)
    expect(death({}).facts.death).toBe(false)
    expect(death({}, undeclared).facts.death).toBeUndefined()
  })

  it('is not recorded of a patient whose resource did not come', () => {
    const { examination: one, reading } = death({})
    expect(readDeath(one, [], reading).death).toBeUndefined()
  })
})

describe('of a patient with merged records', () => {
  const merged = (survivor: Resource, replaced: Resource, asOf?: string) =>
    ask(
      [
        ...examination({ id: 'a', person: survivor }),
        {
          resourceType: 'Patient',
          id: 'old',
          link: [{ other: { reference: 'Patient/patient-a' }, type: 'replaced-by' }],
          ...replaced,
        },
      ],
      asOf,
    )
  const facts = (survivor: Resource, replaced: Resource, asOf?: string) => {
    const { death, deathDay } = merged(survivor, replaced, asOf).only()
    return { death, deathDay }
  }
  const died = { deceasedDateTime: '2026-03-20' }

  it('a death is one, whichever record tells of it', () => {
    expect(facts({}, died)).toEqual({ death: true, deathDay: 10 })
    expect(facts(died, {})).toEqual({ death: true, deathDay: 10 })
    expect(facts(died, { deceasedBoolean: false })).toEqual({ death: true, deathDay: 10 })
    expect(facts({ deceasedBoolean: true }, died)).toEqual({ death: true, deathDay: 10 })
    expect(facts({}, died, '2026-03-19').death).toBe(false)
  })

  it('two days of death leave the day open, and life in the surviving record the death', () => {
    const other = { deceasedDateTime: '2026-03-21' }
    expect(facts(died, other)).toEqual({ death: true, deathDay: undefined })
    expect(facts({ deceasedBoolean: false }, died)).toEqual({ death: undefined, deathDay: undefined })
    for (const story of [merged(died, other), merged({ deceasedBoolean: false }, died)])
      expect(story.takenDown().contradictions).toEqual(['two different values of one measurement'])
  })
})
