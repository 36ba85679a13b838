import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, type Resource, type Said, snomed, yesNo } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// What each field means, and what leaves it open, is the record's own definition. Where reasons stand: FHIR R4 (reasonCode,
// reasonReference); when a test was: Observation.effective[x], "the clinically relevant time", else issued. A code of symptoms alone
// does not name the symptom, so that it rules none out.
const period = { start: '2026-03-01', end: '2026-03-31' }
const local = { coding: [{ system: 'urn:oid:2.999.4', code: 'LOOSE' }] }
const because = (reference: string) => ({ reasonReference: [{ reference }] })

function why(reasons: string[], more: { said?: Said[]; procedure?: Resource; resources?: Resource[] } = {}) {
  const { said = [], procedure = {}, resources = [] } = more
  const story = ask(
    [...examination({ id: 'a', reasons, said, procedure }), ...resources],
    '2027-01-01',
    northmoor,
    period,
  )
  expect(story.inAnotherOrder()).toEqual(story.records)
  return { ...story.only(), ...story.takenDown() }
}

describe('chronic diarrhoea as a reason', () => {
  it('is stated by a code, which is a symptom too', () => {
    const told = why(['chronic-diarrhoea'])
    expect(told).toMatchObject({ chronicDiarrhoea: true, referralReason: 'symptoms', reasonCount: 1 })
    expect(told.referredForKnownLesion).toBe(false)
    expect(why(['symptoms', 'chronic-diarrhoea']).chronicDiarrhoea).toBe(true)
  })

  it.each<[string[], boolean | undefined]>([
    [['screening'], false],
    [['surveillance', 'positive-screening-test'], false],
    [['symptoms'], undefined],
    [['symptoms-positive-test', 'surveillance'], undefined],
    [[], undefined],
  ])('of the reasons %j: %s', (reasons, told) => {
    expect(why(reasons).chronicDiarrhoea).toBe(told)
  })

  it('is open beside a reason that is not known here', () => {
    expect(why([], { procedure: { reasonCode: [fact('screening'), local] } }).chronicDiarrhoea).toBeUndefined()
  })

  it('is stated by what a reason refers to, and by an order', () => {
    const condition = { resourceType: 'Condition', id: 'c', code: fact('chronic-diarrhoea') }
    expect(why([], { procedure: because('Condition/c'), resources: [condition] }).chronicDiarrhoea).toBe(true)
    const seen = { resourceType: 'Observation', id: 'o', status: 'final', code: fact('chronic-diarrhoea') }
    expect(why([], { procedure: because('Observation/o'), resources: [seen] }).chronicDiarrhoea).toBe(true)
    const denied = { ...seen, valueBoolean: false }
    expect(why([], { procedure: because('Observation/o'), resources: [denied] }).chronicDiarrhoea).toBeUndefined()
    const order = {
      resourceType: 'ServiceRequest',
      id: 's',
      status: 'completed',
      reasonCode: [fact('chronic-diarrhoea')],
    }
    const ordered = { basedOn: [{ reference: 'ServiceRequest/s' }] }
    expect(why(['symptoms'], { procedure: ordered, resources: [order] }).chronicDiarrhoea).toBe(true)
  })

  it('is as answered, where no code says it; a no beside the code is listed and decides nothing', () => {
    expect(why(['symptoms'], { said: [yesNo('chronic-diarrhoea', false)] }).chronicDiarrhoea).toBe(false)
    expect(why(['symptoms'], { said: [yesNo('chronic-diarrhoea', true)] }).chronicDiarrhoea).toBe(true)
    const told = why(['chronic-diarrhoea'], { said: [yesNo('chronic-diarrhoea', false)] })
    expect(told.chronicDiarrhoea).toBeUndefined()
    expect(told.contradictions).toContain('reason stated, and denied')
  })

  it('is open where its answer cannot be read, whatever the reasons are', () => {
    const told = why(['screening'], { said: [{ code: fact('chronic-diarrhoea'), valueString: 'sometimes' }] })
    expect(told.chronicDiarrhoea).toBeUndefined()
    expect(told.unreadable).toContain('chronicDiarrhoea')
  })
})

describe('done because an earlier one was incomplete', () => {
  const stopped = (more: Resource = {}): Resource => ({
    resourceType: 'Procedure',
    id: 'before',
    status: 'stopped',
    code: snomed('73761001'),
    subject: { reference: 'Patient/patient-a' },
    performedDateTime: '2026-02-10',
    ...more,
  })
  const referring = (more: Resource = {}) =>
    why([], { procedure: because('Procedure/before'), resources: [stopped(more)] })

  it('by a code, by a stopped colonoscopy that is named as the reason, and by an answer', () => {
    expect(why(['after-incomplete-examination']).afterIncompleteExamination).toBe(true)
    expect(referring().afterIncompleteExamination).toBe(true)
    const said = [yesNo('after-incomplete-examination', true)]
    expect(why(['symptoms'], { said }).afterIncompleteExamination).toBe(true)
  })

  it('the code is known, and says nothing of the kind of referral', () => {
    const told = why(['after-incomplete-examination', 'screening'])
    expect(told).toMatchObject({ referralReason: 'screening', reasonCount: 1, referredForKnownLesion: false })
    expect(told.doubts).toEqual([])
    expect(why(['after-incomplete-examination']).referralReason).toBeUndefined()
  })

  it('not by a colonoscopy that was carried through, came later, or is another’s Procedure', () => {
    for (const more of [{ status: 'completed' }, { performedDateTime: '2026-04-01' }, { code: snomed('44441009') }])
      expect(referring(more).afterIncompleteExamination).toBeUndefined()
  })

  it('is no where every reason is known, unless the last colonoscopy was stopped: then they leave it open', () => {
    expect(why(['symptoms']).afterIncompleteExamination).toBe(false)
    expect(why(['symptoms'], { resources: [stopped({ status: 'completed' })] }).afterIncompleteExamination).toBe(false)
    expect(why(['symptoms'], { resources: [stopped()] }).afterIncompleteExamination).toBeUndefined()
    expect(why([], { procedure: { reasonCode: [local] } }).afterIncompleteExamination).toBeUndefined()
  })
})

describe('days from the positive test', () => {
  const test = (more: Resource, id = 't'): Resource => ({
    resourceType: 'Observation',
    id,
    status: 'final',
    code: fact('positive-screening-test'),
    subject: { reference: 'Patient/patient-a' },
    valueBoolean: true,
    ...more,
  })
  const tested = (...tests: Resource[]) =>
    why([], {
      procedure: { reasonReference: tests.map(({ id }) => ({ reference: `Observation/${String(id)}` })) },
      resources: tests,
    })
  const on = (valueDateTime: string): Said => ({ code: fact('positive-test-date'), valueDateTime })

  // 2026-02-17 to 2026-03-10: 11 days of February and 10 of March.
  it('are from the day its sample was taken, else from that of its result', () => {
    expect(tested(test({ effectiveDateTime: '2026-02-17', issued: '2026-02-20T10:00:00Z' })).daysFromPositiveTest).toBe(
      21,
    )
    expect(tested(test({ issued: '2026-02-20T10:00:00Z' })).daysFromPositiveTest).toBe(18)
    expect(tested(test({ effectivePeriod: { start: '2026-02-17T23:30:00Z' } })).daysFromPositiveTest).toBe(21)
  })

  it('are as stated at the examination', () => {
    expect(why(['positive-screening-test'], { said: [on('2026-03-10')] }).daysFromPositiveTest).toBe(0)
    expect(why(['positive-screening-test']).daysFromPositiveTest).toBeUndefined()
  })

  it.each<[string, Resource]>([
    ['was negative', { valueBoolean: false, effectiveDateTime: '2026-02-17' }],
    ['was one of somebody with symptoms', { code: fact('symptoms-positive-test'), effectiveDateTime: '2026-02-17' }],
    ['was cancelled', { status: 'cancelled', effectiveDateTime: '2026-02-17' }],
  ])('are not those from a test that %s', (_, more) => {
    expect(tested(test(more)).daysFromPositiveTest).toBeUndefined()
  })

  it.each<[string, Resource]>([
    ['of a month', { effectiveDateTime: '2026-02' }],
    ['after the examination', { effectiveDateTime: '2026-03-11' }],
    ['that is none', { effectiveDateTime: 'lately' }],
    ['nowhere', {}],
  ])('are not recorded for a date %s, and that is listed', (_, more) => {
    const told = tested(test(more))
    expect(told.daysFromPositiveTest).toBeUndefined()
    expect(told.unreadable).toContain('daysFromPositiveTest')
  })

  it('are not recorded where two dates differ, as nobody says which test led here', () => {
    const [first, second] = [test({ effectiveDateTime: '2026-02-17' }), test({ effectiveDateTime: '2026-01-05' }, 'u')]
    expect(tested(first, { ...second, effectiveDateTime: '2026-02-17' }).daysFromPositiveTest).toBe(21)
    const told = tested(first, second)
    expect(told.daysFromPositiveTest).toBeUndefined()
    expect(told.contradictions).toEqual(['two different values of one measurement'])
  })
})
