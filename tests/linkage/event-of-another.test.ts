import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, type Resource, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// AdverseEvent.suspectEntity, Procedure.complicationDetail and partOf, Condition.verificationStatus: FHIR R4 (4.0.1). What names
// something is not placed by time: this service's own rule. SNOMED CT 76009000 oesophagogastroduodenoscopy, 80146002 appendicectomy,
// 303078007 and 269304002 perforation, 28939002 a polypectomy of the colon, 95540002 haemorrhage of the colon.
const subject = { reference: 'Patient/p' }
const exam = (id: string, date: string, more: Resource = {}) =>
  examination({ id, patient: 'p', birthDate: '1966-01-01', date, polyps: [{ handling: 'removed' }], procedure: more })
const a = exam('a', '2026-03-10')

const adverse = (more: Resource): Resource => ({
  resourceType: 'AdverseEvent',
  id: 'e',
  actuality: 'actual',
  event: snomed('269304002'),
  subject,
  date: '2026-03-10',
  ...more,
})
const names = (...references: string[]) => ({
  suspectEntity: references.map((reference) => ({ instance: { reference } })),
})
const perforated = (more: Resource): Resource => ({
  resourceType: 'Condition',
  id: 'c',
  code: snomed('303078007'),
  subject,
  ...more,
})
const procedure = (id: string, code: string, more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code: snomed(code),
  subject,
  performedDateTime: '2026-03-10',
  ...more,
})
const gastroscopy = procedure('ogd', '76009000', { encounter: { reference: 'Encounter/encounter-a' } })

/** Perforation of each examination, with its day, and the events that are left out. */
function told(resources: readonly Resource[], source = northmoor) {
  const story = ask(resources, undefined, source)
  expect(story.inAnotherOrder()).toEqual(story.records)
  const days = story.records.map(({ procedure: key, perforation, perforationDay }) => [
    key.slice('Procedure/'.length),
    perforationDay ?? perforation,
  ])
  return {
    ...Object.fromEntries(days),
    leftOut: story.leftOut.filter(({ reason }) => reason.startsWith('event')).map(({ reason }) => reason),
  }
}

describe('an event that names another procedure is none of the examination', () => {
  const ofAnother = { a: false, leftOut: ['event of another procedure'] }

  it('a gastroscopy of the same day, or what is part of it', () => {
    expect(told([...a, gastroscopy, adverse(names('Procedure/ogd'))])).toEqual(ofAnother)
    const biopsy = procedure('biopsy', '76164006', { partOf: [{ reference: 'Procedure/ogd' }] })
    expect(told([...a, gastroscopy, biopsy, adverse(names('Procedure/biopsy'))])).toEqual(ofAnother)
  })

  it('one that is contained in the event', () => {
    const contained = [{ resourceType: 'Procedure', id: 'x', status: 'completed', code: snomed('76009000') }]
    expect(told([...a, adverse({ contained, ...names('#x') })])).toEqual(ofAnother)
  })

  it('an operation after it, of which a condition details a complication', () => {
    const complicationDetail = [{ reference: 'Condition/c' }]
    const operation = procedure('operation', '80146002', { performedDateTime: '2026-03-20', complicationDetail })
    expect(told([...a, operation, perforated({ onsetDateTime: '2026-03-21' })])).toEqual(ofAnother)
    // The same by way of an adverse event.
    const event = adverse({ resultingCondition: complicationDetail, date: '2026-03-21' })
    expect(told([...a, operation, event, perforated({ onsetDateTime: '2026-03-21' })])).toEqual(ofAnother)
  })

  it('but one that names the examination as well is its event; so is one that names a drug alone, in time', () => {
    expect(told([...a, gastroscopy, adverse(names('Procedure/ogd', 'Procedure/a'))])).toEqual({ a: 0, leftOut: [] })
    expect(told([...a, adverse(names('Medication/warfarin'))])).toEqual({ a: 0, leftOut: [] })
  })

  it('a polypectomy of the examination is the examination, done or of unknown status', () => {
    for (const status of ['completed', 'unknown']) {
      const part = procedure('part', '28939002', { status, partOf: [{ reference: 'Procedure/a' }] })
      expect(told([...a, part, adverse(names('Procedure/part'))])).toEqual({ a: 0, leftOut: [] })
    }
  })
})

describe('an event that names what nobody can tell is given to none, and denied of none that may have caused it', () => {
  const unclear = { a: undefined, leftOut: ['event of a procedure that did not come'] }

  it.each<[string, Resource[], Resource]>([
    ['a procedure that did not come', [], names('Procedure/gone')],
    ['an address elsewhere', [], names('https://elsewhere.example/fhir/Procedure/7')],
    ['a display', [], { suspectEntity: [{ instance: { display: 'Colonoscopy' } }] }],
    [
      'a colonoscopy that was entered in error',
      [procedure('copy', '73761001', { status: 'entered-in-error' })],
      names('Procedure/copy'),
    ],
    [
      'a polypectomy that is part of nothing',
      [procedure('loose', '28939002', { performedDateTime: '2026-02-10' })],
      names('Procedure/loose'),
    ],
  ])('%s', (_, more, named) => {
    expect(told([...a, ...more, adverse(named)])).toEqual(unclear)
  })

  it('it is none of an examination that came after it, or long before', () => {
    const event = (date: string) => told([...a, adverse({ ...names('Procedure/gone'), date })])
    expect(event('2026-03-09')).toEqual({ a: false, leftOut: [] })
    expect(event('2026-05-10')).toEqual({ a: false, leftOut: [] })
  })
})

describe('an event that shares the encounter of an examination', () => {
  const b = exam('b', '2026-03-20')
  const encounter = { reference: 'Encounter/encounter-a' }

  it('is of that one, though another came later', () => {
    expect(told([...a, ...b, perforated({ encounter, recordedDate: '2026-03-21' })])).toEqual({
      a: 11,
      b: false,
      leftOut: [],
    })
    expect(told([...a, ...b, perforated({ recordedDate: '2026-03-21' })])).toEqual({ a: false, b: 1, leftOut: [] })
  })

  it('unless it came before it: then it is of the one that could have caused it', () => {
    const admission = { reference: 'Encounter/encounter-b' }
    expect(told([...a, ...b, perforated({ encounter: admission, onsetDateTime: '2026-03-19' })])).toEqual({
      a: 9,
      b: false,
      leftOut: [],
    })
  })
})

describe('a condition', () => {
  const status = (code: string) => ({ verificationStatus: { coding: [{ code }] } })

  it.each(['unconfirmed', 'provisional', 'differential'])('that is %s leaves it open', (code) => {
    const left = { a: undefined, leftOut: ['event that nobody has confirmed'] }
    expect(told([...a, perforated({ ...status(code), onsetDateTime: '2026-03-21' })])).toEqual(left)
    const detailed = exam('a', '2026-03-10', { complicationDetail: [{ reference: 'Condition/c' }] })
    expect(told([...detailed, perforated({ ...status(code), onsetDateTime: '2026-03-21' })])).toEqual(left)
  })

  it('that is suspected adds nothing to an event that is told', () => {
    const suspected = perforated({ ...status('provisional'), onsetDateTime: '2026-03-11' })
    expect(told([...a, adverse(names('Procedure/a')), suspected]).a).toBe(0)
    const results = { resultingCondition: [{ reference: 'Condition/c' }] }
    expect(told([...a, adverse({ ...names('Procedure/a'), ...results }), suspected])).toEqual({ a: 0, leftOut: [] })
    // Where nothing but the suspicion says what it was, the event is one of it.
    const event = adverse({ event: undefined, ...names('Procedure/a'), ...results })
    expect(told([...a, event, suspected]).a).toBeUndefined()
  })

  it('that began or ended before the examination is none of its events, whenever it was recorded', () => {
    const recordedDate = '2026-03-21'
    for (const dates of [{ onsetAge: { value: 40, code: 'a' } }, { abatementDateTime: '2010-05-01' }])
      expect(told([...a, perforated({ ...dates, recordedDate })])).toEqual({ a: false, leftOut: [] })
  })

  it('that began at some time, in words, leaves it open', () => {
    const words = perforated({ onsetString: 'some time ago', recordedDate: '2026-03-21' })
    expect(told([...a, words])).toEqual({ a: undefined, leftOut: ['event without a usable date'] })
  })
})

describe('an event that names its examination, of which only the recording is dated', () => {
  it('has no day: it may have been on any before', () => {
    expect(told([...a, adverse({ ...names('Procedure/a'), date: undefined, recordedDate: '2026-04-24' })]).a).toBe(true)
    const detailed = exam('a', '2026-03-10', { complicationDetail: [{ reference: 'Condition/c' }] })
    const story = [...detailed, perforated({ recordedDate: '2026-04-24' })]
    expect(told(story).a).toBe(true)
    expect(ask(story).answer('perforation-rate-30-day-descriptive').code).toBe('not-recorded')
  })

  it('is of day 0 where it was recorded that day, and undecided where it was recorded before', () => {
    const recorded = (recordedDate: string) =>
      told([...a, adverse({ ...names('Procedure/a'), date: undefined, recordedDate })])
    expect(recorded('2026-03-10').a).toBe(0)
    expect(recorded('2026-03-09')).toEqual({ a: undefined, leftOut: ['event dated before its examination'] })
  })

  it('an adverse event that names none may have been before it as well', () => {
    expect(told([...a, adverse({ date: undefined, recordedDate: '2026-04-24' })])).toEqual({
      a: undefined,
      leftOut: ['event without a usable date'],
    })
  })
})

describe('a bleeding that an examination was done for, by the code of its reason', () => {
  const bled = (more: Resource): Resource => perforated({ code: snomed('95540002'), ...more })
  const done = exam('a', '2026-03-10', { reasonCode: [snomed('95540002')] })
  const bleeding = (resources: readonly Resource[]) =>
    ask(resources).records.map((one) => one.bleedingDay ?? one.bleeding)

  it('is no event of it, on the day and without a time', () => {
    expect(bleeding([...done, bled({ recordedDate: '2026-03-10' })])).toEqual([false])
    const order = {
      resourceType: 'ServiceRequest',
      id: 'o',
      status: 'completed',
      reasonCode: [snomed('95540002')],
    }
    const ordered = exam('a', '2026-03-10', { basedOn: [{ reference: 'ServiceRequest/o' }] })
    expect(bleeding([...ordered, order, bled({ recordedDate: '2026-03-10' })])).toEqual([false])
  })

  it('is one after its start, or on a later day', () => {
    expect(bleeding([...done, bled({ onsetDateTime: '2026-03-10T11:00:00Z' })])).toEqual([0])
    expect(bleeding([...done, bled({ onsetDateTime: '2026-03-12' })])).toEqual([2])
  })

  it('and one after an examination in which nothing was taken is none of its events, and listed', () => {
    const plain = examination({ id: 'a', patient: 'p' })
    const story = ask([...plain, bled({ onsetDateTime: '2026-03-12' })])
    expect(story.only().bleeding).toBe(false)
    const reason = 'bleeding after an examination in which nothing was taken'
    expect(story.leftOut).toEqual([{ reference: 'Condition/c', reason }])
    expect(ask([...plain, bled({ onsetDateTime: '2026-03-09' })]).leftOut).toEqual([])
  })

  it('stays the event of an examination before', () => {
    const before = exam('before', '2026-03-01')
    expect(bleeding([...before, ...done, bled({ recordedDate: '2026-03-10' })])).toEqual([9, false])
  })
})

describe('an event without a time of its own zone', () => {
  const unit = (zone: string, sourceZone: string) => ({
    ...northmoor,
    zone: sourceZone,
    units: [{ id: 'u', name: 'U', zone, match: { procedureLocation: ['Location/u'] } }],
  })
  const at = (start: string) =>
    exam('a', '2026-03-10', { location: { reference: 'Location/u' }, performedPeriod: { start } })

  it('is of the day of the zone in which the examination was', () => {
    // 22:00 of 9 April in New York is 10 April in London: day 30, not 31.
    const evening = adverse({ date: '2026-04-09T22:00:00-04:00' })
    const story = [...at('2026-03-10T09:00:00-04:00'), evening]
    expect(told(story, unit('America/New_York', 'Europe/London')).a).toBe(30)
  })

  it('is not lost where the zone of the source still has the day before', () => {
    const soon = adverse({ date: '2026-03-11T01:00:00Z' })
    expect(told([...at('2026-03-11T00:30:00Z'), soon], unit('Europe/London', 'America/New_York')).a).toBe(0)
  })
})
