import { describe, expect, it } from 'vitest'
import { condition } from '../stories/also-recorded.ts'
import { ask } from '../stories/ask.ts'
import { examination, fact, type Resource } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// AdverseEvent (event, severity, outcome, suspectEntity), Condition.severity and Procedure.complication: FHIR R4 (4.0.1). What counts
// as one event, and when their number is known, is this service's own rule. The examination was on 2026-03-10.
const hl7 = (system: string, code: string): Resource => ({
  coding: [{ system: `http://terminology.hl7.org/CodeSystem/${system}`, code }],
})
const local: Resource = { coding: [{ system: 'urn:oid:1.2.3', code: '5', display: 'Pain' }] }
const plain = examination({ id: 'a' })
const procedure = (more: Resource) => examination({ id: 'a', procedure: more })
const adverse = (more: Resource): Resource => ({
  resourceType: 'AdverseEvent',
  id: 'event',
  actuality: 'actual',
  event: fact('perforation'),
  subject: { reference: 'Patient/patient-a' },
  date: '2026-03-12',
  ...more,
})
const named = { suspectEntity: [{ instance: { reference: 'Procedure/a' } }] }
const undeclared = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'events') }
const unknownCount = { eventCount: undefined, events: undefined }
const noKindKnown = { perforation: undefined, bleeding: undefined, cardiopulmonaryEvent: undefined }
const missedIn = (resources: readonly Resource[]) =>
  ask(resources)
    .takenDown()
    .unmatched.map(({ where, code, words }) => [where, code ?? words])

describe('the number of events', () => {
  it('is one for each kind, however often it is told', () => {
    const { eventCount, events } = ask([
      ...procedure({ complication: [fact('perforation')] }),
      adverse(named),
      adverse({ id: 'other', event: fact('cardiopulmonary-event'), date: '2026-03-10' }),
    ]).only()
    expect(eventCount).toBe(2)
    expect(events).toEqual([
      { kind: 'perforation', severity: undefined, day: 0 },
      { kind: 'cardiopulmonary', severity: undefined, day: 0 },
    ])
  })

  it('is 0 only in a complete feed', () => {
    expect(ask(plain).only()).toMatchObject({ eventCount: 0, events: [], cardiopulmonaryEvent: false })
    expect(ask(plain, undefined, undeclared).only()).toMatchObject({ ...unknownCount, cardiopulmonaryEvent: undefined })
    expect(ask([...plain, adverse({})], undefined, undeclared).only()).toMatchObject({ eventCount: 1 })
  })

  it('is not known while the attribution of one is undecided', () => {
    const later = examination({ id: 'b', patient: 'patient-a', birthDate: '1966-01-01', date: '2026-03-11' })
    const story = ask([...plain, ...later, adverse({ date: '2026-03' })])
    expect(story.records.map(({ eventCount, perforation }) => [eventCount, perforation])).toEqual([
      [undefined, undefined],
      [undefined, undefined],
    ])
  })

  it.each<[string, Resource[], [string, string]]>([
    ['a complication of an unknown code', procedure({ complication: [local] }), ['Procedure.complication', '5']],
    [
      'a complication in words',
      procedure({ complication: [{ text: 'Abdominal pain' }] }),
      ['Procedure.complication', 'Abdominal pain'],
    ],
    [
      'a detail of a complication that is a display alone, as in the example colonoscopy of FHIR R4',
      procedure({ complicationDetail: [{ display: 'Tear' }] }),
      ['Procedure.complicationDetail.display', 'Tear'],
    ],
    [
      'a detail of an unknown code',
      [...procedure({ complicationDetail: [{ reference: 'Condition/c' }] }), condition('a', 'c', local, {})],
      ['Condition.code (complication of a colonoscopy)', '5'],
    ],
    [
      'an adverse event of an unknown code that names it',
      [...plain, adverse({ event: local, ...named })],
      ['AdverseEvent.event', '5'],
    ],
  ])('is not known with %s, which is listed: it may have been of any kind', (_, resources, missed) => {
    expect(ask(resources).only()).toMatchObject({ ...unknownCount, ...noKindKnown })
    expect(missedIn(resources)).toContainEqual(missed)
  })

  it('is not known with an adverse event of an unknown code that may have followed the examination', () => {
    const resources = [...plain, adverse({ event: local })]
    const story = ask(resources)
    // Nothing was removed, so that it was no bleeding after a removal.
    expect(story.only()).toMatchObject({ ...unknownCount, ...noKindKnown, bleeding: false })
    expect(story.answer('perforation-rate-30-day-descriptive').code).toBe('not-recorded')
    expect(story.leftOut).toEqual([{ reference: 'AdverseEvent/event', reason: 'event of a kind that is not known' }])
    expect(missedIn(resources)).toContainEqual(['AdverseEvent.event', '5'])
    expect(ask([...plain, adverse({ event: local, date: '2026-03-09' })]).only().eventCount).toBe(0)
    expect(ask([...plain, adverse({ event: local, date: '2026-05-10' })]).only().eventCount).toBe(0)
  })

  it('stays known with one whose code is mapped to something else, and with one that was only potential', () => {
    const other = ask([...plain, adverse({ event: fact('other'), ...named })])
    expect(other.only()).toMatchObject({ eventCount: 0, perforation: false, cardiopulmonaryEvent: false })
    expect(other.leftOut).toEqual([])
    const lost = { resultingCondition: [{ reference: 'Condition/gone' }] }
    expect(ask([...plain, adverse({ event: fact('other'), ...named, ...lost })]).only()).toMatchObject(noKindKnown)
    expect(ask([...plain, adverse({ event: local, actuality: 'potential', ...named })]).only().eventCount).toBe(0)
  })

  it('an event that is known stays known beside one that is not', () => {
    const { perforation, perforationDay, eventCount } = ask([
      ...plain,
      adverse(named),
      adverse({ id: 'other', event: local, ...named }),
    ]).only()
    expect({ perforation, perforationDay, eventCount }).toEqual({
      perforation: true,
      perforationDay: 2,
      eventCount: undefined,
    })
  })

  it('leaves out an injury of the mucosa, and a complication said to be none', () => {
    const resources = procedure({ complication: [fact('mucosal-injury'), fact('none')] })
    expect(ask(resources).only()).toMatchObject({ eventCount: 0, perforation: false })
    expect(missedIn(resources)).toEqual([])
  })

  it('is not known while a detail leads nowhere', () => {
    const resources = procedure({ complicationDetail: [{ reference: 'Condition/gone' }] })
    expect(ask(resources).only().eventCount).toBeUndefined()
  })
})

describe('the severity of an event', () => {
  const severity = (code: string) => ({ severity: hl7('adverse-event-severity', code) })

  it.each(['mild', 'moderate', 'severe'])('%s is as stated', (code) => {
    const resources = [...plain, adverse(severity(code))]
    expect(ask(resources).only().perforationSeverity).toBe(code)
  })

  it('is fatal by its outcome, whatever the severity said before', () => {
    const outcome = hl7('adverse-event-outcome', 'fatal')
    expect(ask([...plain, adverse({ ...severity('mild'), outcome })]).only().perforationSeverity).toBe('fatal')
    const resolved = hl7('adverse-event-outcome', 'resolved')
    expect(ask([...plain, adverse({ outcome: resolved })]).only().perforationSeverity).toBeUndefined()
  })

  it('is the worst of several tellings, that of a condition among them', () => {
    const told = condition('a', 'c', fact('perforation'), { onsetDateTime: '2026-03-13', severity: fact('severe') })
    expect(ask([...plain, adverse(severity('moderate')), told]).only()).toMatchObject({
      perforationSeverity: 'severe',
      perforationDay: 2,
      events: [{ kind: 'perforation', severity: 'severe', day: 2 }],
    })
  })

  it('of a condition in a terminology that grades other things is not read', () => {
    // SNOMED CT 24484000 (severe) grades any condition, as it stands at some time.
    const graded = { coding: [{ system: 'http://snomed.info/sct', code: '24484000' }] }
    const told = condition('a', 'c', fact('perforation'), { onsetDateTime: '2026-03-13', severity: graded })
    expect(ask([...plain, told]).only()).toMatchObject({ perforation: true, perforationSeverity: undefined })
  })
})

describe('an examination of which only the month is known', () => {
  const coarse = (more: Resource = {}) =>
    examination({ id: 'a', procedure: { performedPeriod: undefined, performedDateTime: '2026-03', ...more } })

  it('has its own complication on its own day, and other events on no known day', () => {
    expect(ask(coarse({ complication: [fact('perforation')] })).only()).toMatchObject({
      perforation: true,
      perforationDay: 0,
    })
    expect(ask([...coarse(), adverse({ date: '2026-04-02' })]).only()).toMatchObject({
      perforation: true,
      perforationDay: undefined,
    })
  })

  it('is undecided for an event of the same month, and free of one before it', () => {
    const within = ask([...coarse(), adverse({ date: '2026-03-15' })])
    expect(within.only().perforation).toBeUndefined()
    expect(within.leftOut).toContainEqual({
      reference: 'AdverseEvent/event',
      reason: 'event attribution undecided',
    })
    expect(ask([...coarse(), adverse({ date: '2026-02-15' })]).only().perforation).toBe(false)
  })
})

it('the trail names what told an event, and that a silence is one', () => {
  const story = ask([...plain, adverse(named)]).takenDown()
  expect(story.rungsOf('perforation')).toEqual(['direct reference'])
  expect(story.rungsOf('perforationDay')).toEqual(['direct reference'])
  expect(
    ask([...plain, adverse({})])
      .takenDown()
      .rungsOf('perforation'),
  ).toEqual(['same patient within the time window'])
  const complicated = ask(procedure({ complication: [fact('perforation')] })).takenDown()
  expect(complicated.rungsOf('perforation')).toEqual(['own element'])
})
