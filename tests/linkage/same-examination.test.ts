import fc from 'fast-check'
import type { FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { addDays } from '../../src/fhir/dates.ts'
import { createFhirServer } from '../../src/local/fhir-server/server.ts'
import { pullWindow } from '../../src/source/pull-window.ts'
import { pullNeeds, sourceCodes } from '../../src/source/source-codes.ts'
import { ask, definitions } from '../stories/ask.ts'
import { examination } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { colonoscopy, found, from, full, on } from './found-examinations.ts'

// Which resources are one examination is this service's own rule (common practice, no source). An Identifier identifies by system
// and value together: FHIR R4, data type Identifier. Dates written as midnight are those met in open records.
const joined = 'second resource of one examination'
const undecided = 'second resource of one examination, which one undecided'
const identified = (value: string, system = 'https://unit.example/examination') => ({ identifier: [{ system, value }] })
const visit = { encounter: { reference: 'Encounter/e' }, basedOn: [{ reference: 'ServiceRequest/o' }] }

const morning = colonoscopy('morning', from('09:00', '09:20'))
const afternoon = colonoscopy('afternoon', from('14:00', '14:30'))

describe('resources with a time of day', () => {
  it('are one where one overlaps both of two others, whichever says most', () => {
    const [early, late] = [colonoscopy('a', from('09:00', '09:30')), colonoscopy('c', from('09:40', '10:10'))]
    const between = colonoscopy('b', from('09:20', '09:50'))
    for (const [one, other, bridge] of [
      [early, late, { ...between, ...full }],
      [{ ...early, ...full }, late, between],
      [early, { ...late, ...full }, between],
    ])
      expect(found([one, other, bridge]).groups.map((group) => group.sort())).toEqual([['a', 'b', 'c']])
  })

  it('are two where they only touch, or where their identifiers lack a system or a value', () => {
    expect(found([morning, colonoscopy('next', from('09:20', '09:40'))]).groups).toHaveLength(2)
    for (const identifier of [
      { type: { text: 'visit' } },
      { value: '7' },
      { system: 'https://unit.example/examination' },
    ])
      expect(
        found([
          { ...morning, identifier: [identifier] },
          { ...afternoon, identifier: [identifier] },
        ]).groups,
      ).toHaveLength(2)
  })

  it('are one over midnight where they overlap, and two on consecutive days where they do not', () => {
    const night = colonoscopy('night', {
      performedPeriod: { start: '2026-03-10T23:40:00Z', end: '2026-03-11T00:20:00Z' },
    })
    const copy = colonoscopy('copy', on('2026-03-11T00:10:00Z'))
    for (const two of [
      [night, copy],
      [night, { ...copy, ...full }],
    ])
      expect(found(two).examinations).toMatchObject([{ date: '2026-03-10', lastDay: '2026-03-11', all: { length: 2 } }])
    expect(found([night, colonoscopy('second', on('2026-03-11T09:00:00Z'))]).groups).toHaveLength(2)
  })

  it('are one by a shared identifier within three days, and two where it comes again after that', () => {
    const lead = { ...morning, ...identified('7') }
    const later = (id: string, date: string) => colonoscopy(id, { ...on(`${date}T11:00:00Z`), ...identified('7') })
    expect(found([lead, later('x', '2026-03-13')]).groups).toEqual([['morning', 'x']])
    expect(found([lead, later('x', '2026-03-14')]).groups).toHaveLength(2)
  })

  it('are two where the identifier they share is the patient’s or the encounter’s', () => {
    const two = [
      { ...morning, ...identified('7'), encounter: { reference: 'Encounter/e' } },
      { ...afternoon, ...identified('7'), encounter: { reference: 'Encounter/e' } },
    ]
    expect(found(two).groups).toHaveLength(1)
    for (const holder of [
      { resourceType: 'Patient', id: 'p' },
      { resourceType: 'Encounter', id: 'e' },
    ])
      expect(found([...two, { ...holder, ...identified('7') }]).groups).toHaveLength(2)
  })

  it('are one of the same day, order and encounter where one has no end, which may be when it was planned', () => {
    const done = colonoscopy('done', { ...from('09:00', '09:30'), ...visit })
    const planned = colonoscopy('planned', { ...from('08:55'), ...visit, ...full })
    const { groups, examinations, leftOut } = found([done, planned])
    expect(groups.map((group) => group.sort())).toEqual([['done', 'planned']])
    expect(examinations[0]).toMatchObject({
      start: Date.parse('2026-03-10T09:00:00Z'),
      end: Date.parse('2026-03-10T09:30:00Z'),
    })
    expect(leftOut).toEqual([['done', joined]])
    expect(found([done, { ...planned, basedOn: undefined }]).groups).toHaveLength(2)
    const again = colonoscopy('again', { ...from('14:00', '14:30'), ...visit })
    expect(found([done, again]).groups).toHaveLength(2)
    expect(found([done, again, planned])).toMatchObject({
      groups: [['again'], ['done']],
      leftOut: [['planned', undecided]],
    })
  })

  it('have the date of the unit that any of them names, and are one by the instant before that is known', () => {
    const source = {
      ...northmoor,
      units: [{ id: 'ny', name: 'East', zone: 'America/New_York', match: { procedureLocation: ['Location/ny'] } }],
    }
    const start = '2026-03-10T22:00:00-04:00'
    const lead = colonoscopy('lead', { ...full, performedPeriod: { start, end: '2026-03-10T22:30:00-04:00' } })
    const copy = colonoscopy('copy', { performedDateTime: start, location: { reference: 'Location/ny' } })
    const dated = colonoscopy('dated', { performedDateTime: '2026-03-10', location: { reference: 'Location/ny' } })
    for (const resources of [
      [lead, copy],
      [lead, dated],
    ]) {
      const { examinations } = found(resources, undefined, undefined, source)
      expect(examinations).toMatchObject([{ key: 'Procedure/lead', date: '2026-03-10', unit: { id: 'ny' } }])
    }
  })
})

describe('a resource without a time of day', () => {
  const bill = colonoscopy('bill', { ...on('2026-03-10'), ...full })

  it('is one with the only timed one of its day, which leads, however little it says', () => {
    const { groups, leftOut } = found([morning, bill])
    expect(groups).toEqual([['morning', 'bill']])
    expect(leftOut).toEqual([['bill', joined]])
  })

  it('never makes two examinations of one day into one: it is left out, and counted', () => {
    expect(found([morning, afternoon, bill])).toMatchObject({
      groups: [['afternoon'], ['morning']],
      leftOut: [['bill', undecided]],
    })
  })

  it('is one of the two whose identifier it shares', () => {
    expect(found([morning, { ...afternoon, ...identified('7') }, { ...bill, ...identified('7') }]).groups).toEqual([
      ['afternoon', 'bill'],
      ['morning'],
    ])
  })

  it.each([
    ['midnight in UTC', on('2026-03-10T00:00:00Z')],
    ['midnight with an offset', on('2026-03-10T00:00:00.000+01:00')],
    ['from midnight to midnight', { performedPeriod: { start: '2026-03-10T00:00:00Z', end: '2026-03-11T00:00:00Z' } }],
    [
      'at midnight and over at once',
      { performedPeriod: { start: '2026-03-10T00:00:00Z', end: '2026-03-10T00:00:00Z' } },
    ],
    ['of the length of a stay', { performedPeriod: { start: '2026-03-10T07:00:00Z', end: '2026-03-13T12:00:00Z' } }],
  ])('is also one that is %s: it starts no examination of its own', (_, performed) => {
    const { groups, examinations } = found([morning, colonoscopy('copy', { ...performed, ...full })])
    expect(groups).toEqual([['morning', 'copy']])
    expect(examinations[0]).toMatchObject({
      start: Date.parse('2026-03-10T09:00:00Z'),
      end: Date.parse('2026-03-10T09:20:00Z'),
    })
  })

  it('but a list that goes on past midnight has its time', () => {
    const night = colonoscopy('night', from('00:00', '00:40'))
    expect(found([morning, night]).groups).toHaveLength(2)
  })

  it('is one with what shares its identifier, whatever its own date says: a day off, or the month alone', () => {
    const lead = { ...morning, ...identified('7') }
    for (const date of ['2026-03-11', '2026-03-07', '2026-03'])
      expect(found([lead, colonoscopy('copy', { ...on(date), ...identified('7'), ...full })])).toMatchObject({
        groups: [['morning', 'copy']],
        examinations: [{ date: '2026-03-10' }],
        leftOut: [['copy', joined]],
      })
    expect(found([lead, colonoscopy('copy', { ...on('2026-03-14'), ...identified('7') })]).groups).toHaveLength(2)
  })

  it('is an examination with the others of its day where none of them has a time', () => {
    expect(found([bill, colonoscopy('other', on('2026-03-10')), colonoscopy('next', on('2026-03-11'))]).groups).toEqual(
      [['bill', 'other'], ['next']],
    )
  })

  it('is two where nothing but one month is known of both', () => {
    expect(found([colonoscopy('a', on('2026-03')), colonoscopy('b', on('2026-03'))]).groups).toHaveLength(2)
  })
})

// Few values, so that they meet: what the resources say, in every combination.
const startsAt = (...times: string[]) =>
  fc.constantFrom(...times.flatMap((time) => [`2026-03-10T${time}:00Z`, `2026-03-11T${time}:00Z`]))
const withTime = fc.oneof(
  fc
    .tuple(startsAt('09:00', '09:20', '09:40', '14:00', '23:50'), fc.constantFrom(undefined, 15, 30, 600))
    .map(([start, minutes]) => ({
      performedPeriod: {
        start,
        ...(minutes !== undefined && { end: new Date(Date.parse(start) + minutes * 60_000).toISOString() }),
      },
    })),
  startsAt('09:00', '14:00').map(on),
)
const withoutTime = fc.oneof(
  fc.constantFrom('2026-03-08', '2026-03-10', '2026-03-11', '2026-03').map(on),
  startsAt('00:00').map(on),
  startsAt('09:00').map((start) => ({ performedPeriod: { start, end: '2026-03-13T12:00:00Z' } })),
)
const anything = fc.record(
  {
    identifier: fc.constantFrom(undefined, undefined, ...['7', '8'].map((value) => identified(value).identifier)),
    encounter: fc.constantFrom(undefined, visit.encounter),
    basedOn: fc.constantFrom(undefined, visit.basedOn),
    note: fc.constant([]),
    category: fc.constant({}),
  },
  { requiredKeys: [] },
)
const listOf = (name: string, performed: fc.Arbitrary<object>) =>
  fc
    .array(fc.tuple(performed, anything), { minLength: 1, maxLength: 6 })
    .map((list) => list.map(([when, more], index) => colonoscopy(`${name}${index}`, { ...more, ...when })))
const timed = listOf('timed', withTime)
const untimed = listOf('untimed', withoutTime)
const records = fc.tuple(timed, untimed).map(([some, more]) => [...some, ...more])
const sets = (groups: readonly (readonly string[])[]) => groups.map((group) => [...group].sort().join()).sort()

describe('of any resources of one patient', () => {
  it('each is in one examination or left out once, in whatever order they come', () => {
    const shuffled = records.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
    )
    fc.assert(
      fc.property(shuffled, ([list, other]) => {
        const { groups, leftOut } = found(list)
        const again = found([...other, ...other])
        expect(again).toMatchObject({ groups, leftOut })
        const lost = leftOut.filter(([, reason]) => reason === undecided).map(([id]) => id)
        expect([...groups.flat(), ...lost].sort()).toEqual(list.map(({ id }) => id).sort())
      }),
      { seed: 20261125, numRuns: 300 },
    )
  })

  it('it makes no difference which of them says most', () => {
    fc.assert(
      fc.property(records, fc.nat(5), (list, chosen) => {
        const fuller = list.map((one, index) => (index === chosen % list.length ? { ...one, ...full } : one))
        expect(sets(found(fuller).groups)).toEqual(sets(found(list).groups))
      }),
      { seed: 20261126, numRuns: 300 },
    )
  })

  it('those without a time of day change nothing about which of the others are one', () => {
    fc.assert(
      fc.property(timed, untimed, (list, more) => {
        const isTimed = (id: string) => list.some((one) => one.id === id)
        const { groups } = found([...list, ...more])
        const left = groups.map((group) => group.filter(isTimed)).filter((group) => group.length > 0)
        expect(sets(left)).toEqual(sets(found(list).groups))
      }),
      { seed: 20261127, numRuns: 300 },
    )
  })
})

describe('the same in any split into windows', () => {
  const period = { start: '2026-03-01', end: '2026-03-31' }
  const source = { ...northmoor, baseUrl: 'http://localhost/fhir' }
  const codes = sourceCodes(definitions.resources, source)
  const days = Array.from({ length: 31 }, (_, day) => addDays(period.start, day)).map((day) => ({
    start: day,
    end: day,
  }))

  /** Examinations and what is left out, of windows that are pulled and linked one by one. */
  async function inWindows(resources: readonly unknown[], windows: readonly { start: string; end: string }[]) {
    const serve = createFhirServer(resources as FhirResource[])
    const groups: string[][] = []
    const leftOut = new Map<string, string>()
    for (const window of windows) {
      const pulled = await pullWindow(source, window, pullNeeds(codes), (url, init) => serve(new Request(url, init)), {
        sleep: async () => {},
      })
      const here = found(pulled.resources, window, period, source)
      groups.push(...here.groups)
      for (const [id, reason] of here.leftOut) leftOut.set(id, reason)
    }
    return { groups: groups.sort(), leftOut: [...leftOut].sort() }
  }

  it('copies dated days away, or by the month, are read with their examination', async () => {
    const resources = [
      { resourceType: 'Patient', id: 'p' },
      { ...morning, ...identified('7') },
      colonoscopy('day-off', { ...on('2026-03-13'), ...identified('7') }),
      colonoscopy('month', { ...on('2026-03'), ...identified('7') }),
      colonoscopy('two-a', on('2026-03-20T09:00:00Z')),
      colonoscopy('two-b', on('2026-03-20T15:00:00Z')),
      colonoscopy('two-bill', on('2026-03-20')),
      colonoscopy('part', { ...on('2026-03-28'), partOf: [{ reference: 'Procedure/morning' }] }),
    ]
    const whole = await inWindows(resources, [period])
    expect(whole).toEqual({
      groups: [['morning', 'day-off', 'month'], ['part'], ['two-a'], ['two-b']],
      leftOut: [
        ['day-off', joined],
        ['month', joined],
        ['two-bill', undecided],
      ],
    })
    expect(await inWindows(resources, days)).toEqual(whole)
  })
})

it('two resources of one examination are one record in the figures, and the second is listed', () => {
  const copy = { ...colonoscopy('copy', on('2026-03-10T00:00:00Z')), subject: { reference: 'Patient/patient-a' } }
  const story = ask([...examination({ id: 'a' }), copy])
  expect(story.only()).toMatchObject({ procedure: 'Procedure/a', examinationDate: '2026-03-10', startTime: '09:00' })
  expect(story.leftOut).toEqual([{ reference: 'Procedure/copy', reason: joined }])
})
