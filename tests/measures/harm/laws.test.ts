import { expect, it } from 'vitest'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { variedRecords } from '../../criteria/varied-records.ts'
import { measureOf } from '../measure-of.ts'
import { answerOn } from './asked.ts'
import { bleedingMeasures, perforationMeasures, worseBleedingMeasures } from './uneventful.ts'

const records = variedRecords(2000, 20261126)

/** Every record that meets one measure meets another; some record does. */
function expectWithin(narrow: string, wide: string): void {
  const met = records.filter((record) => answerOn(narrow, record).code === 'met')
  expect(met.length).toBeGreaterThan(0)
  for (const record of met) expect(answerOn(wide, record).code).toBe('met')
}

it.each(
  [...perforationMeasures, ...bleedingMeasures, ...worseBleedingMeasures]
    .filter(({ days }) => days < 30)
    .map(({ id, days }) => [id, id.replace(`-${days}-day-`, '-30-day-')]),
)('what %s counts, %s counts too', expectWithin)

it.each(
  worseBleedingMeasures
    .filter(({ id }) => id.endsWith('descriptive'))
    .map(({ id }) => [id, id.replace('intermediate-or-worse-', '')]),
)('what %s counts, %s counts too', expectWithin)

it('a standard changes no answer: where the population is the same, so is every answer', () => {
  const pairs = [
    ...[7, 30].flatMap((days) =>
      ['us-2015', 'uk-2016'].map((standard) => [
        `perforation-rate-${days}-day-descriptive`,
        `perforation-rate-${days}-day-${standard}`,
      ]),
    ),
    ...[14, 30].map((days) => [
      `post-polypectomy-bleeding-rate-${days}-day-descriptive`,
      `post-polypectomy-bleeding-rate-${days}-day-us-2015`,
    ]),
  ] as [string, string][]
  const code = (id: string, record: Colonoscopy) => answerOn(id, record).code
  for (const [one, other] of pairs)
    expect(records.map((record) => code(one, record))).toEqual(records.map((record) => code(other, record)))
})

it('no death is in both lists, and every dated one within 30 days with a setting is in one', () => {
  const lists = ['death-within-30-days-elective-descriptive', 'death-within-30-days-emergency-descriptive']
  const dead = records.filter(
    ({ death, deathDay, setting }) => death && deathDay !== undefined && deathDay <= 30 && setting !== undefined,
  )
  expect(dead.length).toBeGreaterThan(20)
  const isListed = (record: Colonoscopy) => lists.filter((id) => answerOn(id, record).code === 'met')
  for (const record of records) expect(isListed(record)).toHaveLength(dead.includes(record) ? 1 : 0)
})

it('every measure of events, visits and deaths has a window, and says how far it knows', () => {
  const ids = [
    ...[...perforationMeasures, ...bleedingMeasures, ...worseBleedingMeasures].map(({ id }) => id),
    'cardiopulmonary-event-rate-1-day-descriptive',
    'cardiopulmonary-event-rate-sedated-1-day-descriptive',
    'unplanned-hospital-visit-rate-7-day-descriptive',
    'death-within-30-days-elective-descriptive',
    'death-within-30-days-emergency-descriptive',
  ]
  for (const id of ids) {
    const { eventWindowDays, resource } = measureOf(id).definition
    expect(id).toContain(`${eventWindowDays}-day`)
    expect(resource.disclaimer).toContain('only as far as the source’s way of learning of them reaches')
    if (!id.startsWith('death')) expect(resource.relatedArtifact?.length, id).toBeGreaterThan(0)
  }
})
