import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { visit } from '../stories/also-recorded.ts'
import { ask } from '../stories/ask.ts'
import { examination, type Resource } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// Encounter (status, class, period, partOf, appointment, priority, hospitalization.admitSource) and their codes: FHIR R4 (4.0.1),
// v3-ActCode, v3-ActPriority, admit-source. Days are counted on the civil calendar: 2026-03-10 to 2026-04-09 is 30. Which
// visits count, and whose they are, is this service's own rule. Examination `a` began at 09:00 on 2026-03-10.
const exam = examination({ id: 'a' })
const second = (id: string, date: string, start?: string) =>
  examination({
    id,
    patient: 'patient-a',
    birthDate: '1966-01-01',
    date,
    ...(start !== undefined && { procedure: { performedPeriod: { start } } }),
  })
const without = (id: string, element: string, resources: readonly Resource[]) =>
  resources.map((one) =>
    one.id === id ? Object.fromEntries(Object.entries(one).filter(([key]) => key !== element)) : one,
  )

function visits(resources: readonly Resource[], asOf?: string, source = northmoor) {
  const story = ask(resources, asOf, source)
  return {
    story,
    of: Object.fromEntries(
      story.records.map(({ procedure, hospitalVisitCount, visits: list, unplannedVisit, unplannedVisitDay }) => [
        procedure.slice('Procedure/'.length),
        { hospitalVisitCount, visits: list, unplannedVisit, unplannedVisitDay },
      ]),
    ),
  }
}
const one = (...encounters: Resource[]) => visits([...exam, ...encounters]).of.a
const open = {
  hospitalVisitCount: undefined,
  visits: undefined,
  unplannedVisit: undefined,
  unplannedVisitDay: undefined,
}

describe('a hospital visit', () => {
  it.each([
    ['EMER', 1],
    ['OBSENC', 1],
    ['IMP', 1],
    ['ACUTE', 1],
    ['NONAC', 1],
    ['SS', 1],
    ['AMB', 0],
    ['VR', 0],
    ['HH', 0],
  ])('of class %s counts %i', (code, count) => {
    expect(one(visit('a', 'v', code, '2026-03-12'))?.hospitalVisitCount).toBe(count)
  })

  it('on the day of the examination counts when its time is later, and is not one when it is earlier', () => {
    expect(one(visit('a', 'v', 'EMER', '2026-03-10T18:00:00Z'))).toMatchObject({ visits: [{ day: 0, planned: false }] })
    expect(one(visit('a', 'v', 'EMER', '2026-03-10T08:00:00Z'))?.hospitalVisitCount).toBe(0)
    expect(one(visit('a', 'v', 'EMER', '2026-03-10'))).toEqual(open)
  })

  it('belongs to the latest examination before it, and counts for no other', () => {
    const { of } = visits([...exam, ...second('b', '2026-03-20'), visit('a', 'v', 'EMER', '2026-03-25')])
    expect(of.a?.hospitalVisitCount).toBe(0)
    expect(of.b).toMatchObject({ hospitalVisitCount: 1, unplannedVisitDay: 5 })
  })

  it('on the day of the second, without a time, is of neither and denied of neither', () => {
    const { of } = visits([...exam, ...second('b', '2026-03-20'), visit('a', 'v', 'EMER', '2026-03-20')])
    expect(of).toEqual({ a: open, b: open })
  })

  it('more than 30 days after the last examination is of none', () => {
    const { of } = visits([...exam, ...second('b', '2026-03-20'), visit('a', 'v', 'EMER', '2026-04-20')])
    expect([of.a?.hospitalVisitCount, of.b?.hospitalVisitCount]).toEqual([0, 0])
  })

  it('after two examinations of one day belongs to the second of them', () => {
    const afternoon = second('b', '2026-03-10', '2026-03-10T14:00:00Z')
    const { of } = visits([...exam, ...afternoon, visit('a', 'v', 'EMER', '2026-03-11')])
    expect([of.a?.hospitalVisitCount, of.b?.hospitalVisitCount]).toEqual([0, 1])
  })

  it('after the as-of day has not happened', () => {
    const resources = [...exam, visit('a', 'v', 'EMER', '2026-03-15')]
    expect(visits(resources, '2026-03-14').of.a?.hospitalVisitCount).toBe(0)
    expect(visits(resources, '2026-03-15').of.a?.hospitalVisitCount).toBe(1)
  })
})

describe('what is no visit', () => {
  it('the stay in which the examination was done, and whatever is part of it', () => {
    const stay = visit('a', 'stay', 'IMP', '2026-03-10T12:00:00Z')
    const own = exam.map((resource) =>
      resource.id === 'encounter-a' ? { ...resource, partOf: { reference: 'Encounter/stay' } } : resource,
    )
    const ward = visit('a', 'ward', 'IMP', '2026-03-11', { partOf: { reference: 'Encounter/stay' } })
    expect(visits([...own, stay, ward]).of.a?.hospitalVisitCount).toBe(0)
  })

  it('a part of a visit: moves between wards are one stay', () => {
    const ward = visit('a', 'ward', 'IMP', '2026-03-14', { partOf: { reference: 'Encounter/stay' } })
    expect(one(visit('a', 'stay', 'IMP', '2026-03-12'), ward)?.hospitalVisitCount).toBe(1)
  })

  it('the encounter of another colonoscopy, even one that is in no figure', () => {
    const undated = {
      resourceType: 'Procedure',
      id: 'other',
      status: 'completed',
      code: { coding: [{ system: 'http://snomed.info/sct', code: '73761001' }] },
      subject: { reference: 'Patient/patient-a' },
      encounter: { reference: 'Encounter/v' },
    }
    expect(one(visit('a', 'v', 'SS', '2026-03-20'), undated)?.hospitalVisitCount).toBe(0)
  })

  it.each(['planned', 'cancelled', 'entered-in-error'])('one that is %s', (status) => {
    expect(one(visit('a', 'v', 'EMER', '2026-03-12', { status }))?.hospitalVisitCount).toBe(0)
  })
})

describe('what leaves visits open', () => {
  it('a class that nobody knows, which is listed', () => {
    const local = { class: { system: 'urn:oid:1.2.3', code: 'K', display: 'Short care' } }
    const { of, story } = visits([...exam, visit('a', 'v', '', '2026-03-12', local)])
    expect(of.a).toEqual(open)
    expect(story.takenDown().unmatched.map(({ where, code }) => [where, code])).toContainEqual(['Encounter.class', 'K'])
  })

  it('a status that is unknown, a start that is missing, or a month that may have been before', () => {
    expect(one(visit('a', 'v', 'EMER', '2026-03-12', { status: 'unknown' }))).toEqual(open)
    expect(one(visit('a', 'v', 'EMER', '2026-03-12', { period: {} }))).toEqual(open)
    expect(one(visit('a', 'v', 'EMER', '2026-03'))).toEqual(open)
    // April 2026 begins 22 days after the examination and ends 51 days after it.
    expect(one(visit('a', 'v', 'EMER', '2026-04'))).toEqual(open)
    expect(one(visit('a', 'v', 'EMER', '2026-05'))?.hospitalVisitCount).toBe(0)
    expect(one(visit('a', 'v', 'EMER', '2026-02'))?.hospitalVisitCount).toBe(0)
  })

  it('but a month that lies wholly within the 30 days counts, without a day', () => {
    const late = second('b', '2026-03-31')
    const { of } = visits([...late, visit('a', 'v', 'EMER', '2026-04')])
    expect(of.b).toEqual({
      hospitalVisitCount: 1,
      visits: [{ day: undefined, planned: false }],
      unplannedVisit: true,
      unplannedVisitDay: undefined,
    })
  })

  it('no feed of visits: silence is not none, and planned ones are not all', () => {
    const source = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'visits') }
    expect(visits(exam, undefined, source).of.a).toEqual(open)
    const elective = visit('a', 'v', 'IMP', '2026-03-12', { appointment: [{ reference: 'Appointment/x' }] })
    expect(visits([...exam, elective], undefined, source).of.a).toMatchObject({
      hospitalVisitCount: 1,
      unplannedVisit: undefined,
    })
  })
})

describe('whether a visit was planned', () => {
  const hl7 = (system: string, code: string) => ({
    coding: [{ system: `http://terminology.hl7.org/CodeSystem/${system}`, code }],
  })
  const appointment = [{ reference: 'Appointment/x' }]
  it.each<[string, Resource, boolean | undefined]>([
    ['with an appointment', { appointment }, true],
    ['elective', { priority: hl7('v3-ActPriority', 'EL') }, true],
    ['routine', { priority: hl7('v3-ActPriority', 'R') }, true],
    ['urgent', { priority: hl7('v3-ActPriority', 'UR') }, false],
    ['an emergency by priority', { priority: hl7('v3-ActPriority', 'EM') }, false],
    ['admitted from the emergency department', { hospitalization: { admitSource: hl7('admit-source', 'emd') } }, false],
    ['urgent, with an appointment', { priority: hl7('v3-ActPriority', 'UR'), appointment }, false],
    ['admitted from a clinic', { hospitalization: { admitSource: hl7('admit-source', 'outp') } }, undefined],
    ['with nothing said', {}, undefined],
  ])('%s', (_, more, planned) => {
    expect(one(visit('a', 'v', 'IMP', '2026-03-12', more))).toMatchObject({
      visits: [{ day: 2, planned }],
      unplannedVisit: planned === undefined ? undefined : !planned,
    })
  })

  it('the first unplanned one has a day only where no earlier one may have been unplanned', () => {
    const emergency = visit('a', 'v1', 'EMER', '2026-03-15')
    expect(one(emergency, visit('a', 'v2', 'IMP', '2026-03-20'))).toMatchObject({ unplannedVisitDay: 5 })
    expect(one(emergency, visit('a', 'v2', 'IMP', '2026-03-12'))).toMatchObject({
      unplannedVisit: true,
      unplannedVisitDay: undefined,
    })
  })
})

describe('laws of visits', () => {
  const days = fc.integer({ min: 1, max: 45 })
  const dateOf = (day: number) => new Date(Date.UTC(2026, 2, 10 + day)).toISOString().slice(0, 10)
  const encounters = fc
    .array(fc.record({ day: days, code: fc.constantFrom('EMER', 'IMP', 'AMB', 'SS') }), { maxLength: 5 })
    .map((list) => list.map(({ day, code }, index) => visit('a', `v${index}`, code, dateOf(day))))

  it('each is counted once, whatever order they come in', () => {
    fc.assert(
      fc.property(encounters, days, (list, gap) => {
        const all = [...exam, ...second('b', dateOf(gap)), ...list]
        const counted = (resources: readonly Resource[]) =>
          visits(resources).story.records.map(({ hospitalVisitCount = 0 }) => hospitalVisitCount)
        const counts = counted(all)
        expect(counted([...all].reverse())).toEqual(counts)
        const ofHospital = list.filter((resource) => (resource.class as { code: string }).code !== 'AMB').length
        expect(counts.reduce((sum, count) => sum + count, 0)).toBeLessThanOrEqual(ofHospital)
      }),
      { seed: 30, numRuns: 60 },
    )
  })

  it('taking an element away never turns unplanned into planned or none, nor the other way', () => {
    const elements = fc.constantFrom('status', 'class', 'period', 'priority', 'appointment')
    fc.assert(
      fc.property(encounters, elements, (list, element) => {
        const before = visits([...exam, ...list]).of.a?.unplannedVisit
        for (const { id } of list) {
          const after = visits(without(String(id), element, [...exam, ...list])).of.a?.unplannedVisit
          if (after !== undefined) expect(after).toBe(before)
        }
      }),
      { seed: 31, numRuns: 40 },
    )
  })
})
