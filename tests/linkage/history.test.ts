import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readHistory } from '../../src/linkage/history.ts'
import { feedKinds } from '../../src/record/field.ts'
import { examination, fact, snomed, ulcerativeColitis } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { oneExamination } from './one-examination.ts'

// Kleene's three-valued "or": true when one date says before, not recorded when none does and one cannot tell. What "before" means
// is the record's own definition; statuses are those of FHIR R4 (condition-clinical, condition-ver-status, event-status).
type Resource = Record<string, unknown>
const subject = { reference: 'Patient/p' }
const silent = { ...northmoor, completeFeeds: feedKinds.filter((kind) => kind !== 'history') }
const status = (code: string) => ({ coding: [{ code }] })

const condition = (code: Resource, more: Resource): Resource => ({
  resourceType: 'Condition',
  id: `condition-${JSON.stringify([code, more]).replace(/[^A-Za-z0-9]/g, '')}`,
  code,
  subject,
  ...more,
})
const colitis = (more: Resource) => condition(snomed(ulcerativeColitis), more)
const operation = (more: Resource): Resource => ({
  resourceType: 'Procedure',
  id: `operation-${JSON.stringify(more).replace(/[^A-Za-z0-9]/g, '')}`,
  status: 'completed',
  code: fact('earlier-resection'),
  subject,
  ...more,
})
const answer = (code: string, value: Resource, more: Resource = {}): Resource => ({
  resourceType: 'Observation',
  id: `answer-${JSON.stringify([code, value, more]).replace(/[^A-Za-z0-9]/g, '')}`,
  status: 'final',
  code: fact(code),
  partOf: [{ reference: 'Procedure/a' }],
  ...value,
  ...more,
})

/** History of the patient examined on 10 March 2026. */
function historyOf(resources: readonly Resource[], source = northmoor, asOf = '2027-01-01', date = '2026-03-10') {
  const story = examination({ id: 'a', patient: 'p' }).map((one) =>
    one.resourceType === 'Procedure' && date !== '2026-03-10'
      ? { ...one, performedPeriod: undefined, performedDateTime: date }
      : one,
  )
  const one = oneExamination([...story, ...resources], source, asOf)
  return { ...readHistory(one.examination, one.conditions, one.procedures, one.reading), ...one }
}
const contradictionsOf = ({ trail }: ReturnType<typeof historyOf>) => trail.contradictions.map(({ kind }) => kind)

describe('a condition was known before the examination', () => {
  const known = (...conditions: Resource[]) => historyOf(conditions).inflammatoryBowelDisease

  it.each<[Resource, boolean | undefined]>([
    [{ onsetDateTime: '2026-03-09' }, true],
    [{ onsetDateTime: '2026', recordedDate: '2026-01-05' }, true],
    [{ onsetDateTime: '2025', recordedDate: '2026-04-01' }, true],
    [{ onsetDateTime: '2026-02' }, true],
    [{ onsetPeriod: { start: '2019-05' } }, true],
    [{ onsetDateTime: '2026-03-10', recordedDate: '2026-03-10' }, false],
    [{ onsetDateTime: '2026-04', recordedDate: '2026-04-02' }, false],
    [{ onsetDateTime: '2026' }, undefined],
    [{ onsetDateTime: '2026-03' }, undefined],
    [{ onsetDateTime: '2026', recordedDate: '2026-04-02' }, undefined],
    [{}, undefined],
    [{ onsetString: 'in childhood' }, undefined],
    [{ onsetString: 'since childhood', recordedDate: '2026-03-11' }, undefined],
    [{ onsetRange: { low: { value: 20 }, high: { value: 30 } }, recordedDate: '2026-03-11' }, undefined],
    [{ onsetPeriod: { end: '2019' }, recordedDate: '2026-03-11' }, true],
    [{ onsetDateTime: 'soon', recordedDate: '2026-03-11' }, undefined],
    [{ abatementDateTime: '2010-05-01', recordedDate: '2026-12-01' }, true],
    [{ abatementDateTime: '2026-04-01', recordedDate: '2026-12-01' }, undefined],
    [{ onsetDateTime: '2026-04-01', abatementDateTime: '2026-06-01', recordedDate: '2026-12-01' }, false],
  ])('%j: %s', (dates, told) => {
    expect(known(colitis(dates))).toBe(told)
  })

  it('at an age is in that year of life, where the birth date is known', () => {
    // Born on 1966-01-01, examined at 60.
    const atAge = (value: number, more: Resource = {}) =>
      known(colitis({ onsetAge: { value, system: 'http://unitsofmeasure.org', code: 'a' }, ...more }))
    expect(atAge(30, { recordedDate: '2026-03-11' })).toBe(true)
    expect(atAge(59, { recordedDate: '2026-03-11' })).toBe(true)
    expect(atAge(60, { recordedDate: '2026-03-11' })).toBeUndefined()
    expect(atAge(61, { recordedDate: '2027-03-11' })).toBe(false)
    expect(
      known(colitis({ onsetAge: { value: 30, comparator: '<', code: 'a' }, recordedDate: '2026-03-11' })),
    ).toBeUndefined()
    const unborn = examination({ id: 'a', patient: 'p', person: { birthDate: undefined } })
    const { examination: one, reading, procedures } = oneExamination(unborn)
    const aged = colitis({ onsetAge: { value: 30, code: 'a' }, recordedDate: '2026-03-11' })
    expect(readHistory(one, [aged], procedures, reading).inflammatoryBowelDisease).toBeUndefined()
  })

  it('what one condition leaves open another decides', () => {
    expect(known(colitis({}), colitis({ recordedDate: '2024-01-01' }))).toBe(true)
    expect(known(colitis({}), colitis({ recordedDate: '2026-05-01' }))).toBeUndefined()
  })

  it('a refuted one without a date leaves nothing open', () => {
    expect(known(colitis({ verificationStatus: status('refuted') }))).toBe(false)
  })

  it.each(['unconfirmed', 'provisional', 'differential'])('one that is %s leaves it open', (code) => {
    const suspected = { recordedDate: '2020-01-01', verificationStatus: status(code) }
    expect(known(colitis(suspected))).toBeUndefined()
    expect(historyOf([condition(fact('stricture'), suspected)]).strictureKnown).toBe(true)
  })

  it('one that is over still is history', () => {
    expect(known(colitis({ onsetDateTime: '2001', abatementDateTime: '2009' }))).toBe(true)
  })

  it('one that nothing dates is listed as a doubt, and words for a date as unreadable', () => {
    const { trail } = historyOf([colitis({ onsetString: 'in childhood' })])
    expect(trail.doubts.map(({ kind }) => kind)).toEqual([
      'condition that does not say whether it was there before the examination',
    ])
    expect(trail.unreadable).toMatchObject([{ field: 'inflammatoryBowelDisease', element: 'Condition.onsetString' }])
  })

  it('before an examination known to its month is before the first of the month', () => {
    const inMarch = (dates: Resource) =>
      historyOf([colitis(dates)], northmoor, '2027-01-01', '2026-03').inflammatoryBowelDisease
    expect(inMarch({ recordedDate: '2026-02-28' })).toBe(true)
    expect(inMarch({ recordedDate: '2026-03-01' })).toBeUndefined()
    expect(inMarch({ recordedDate: '2026-03-31' })).toBe(false)
  })

  it('a disease recorded after the as-of instant is not known yet', () => {
    const late = colitis({ onsetDateTime: '2020-01-01', recordedDate: '2026-08-01' })
    expect(historyOf([late], northmoor, '2026-06-01').inflammatoryBowelDisease).toBe(false)
    expect(historyOf([late], northmoor, '2026-09-01').inflammatoryBowelDisease).toBe(true)
  })
})

describe('every kind of history', () => {
  const before = { recordedDate: '2020-01-01' }
  const kinds = [
    ['hereditarySyndrome', 'hereditary-syndrome'],
    ['earlierResection', 'earlier-resection'],
    ['strictureKnown', 'stricture'],
    ['severeDiverticulosis', 'severe-diverticulosis'],
    ['pelvicSurgeryOrRadiotherapy', 'pelvic-surgery-or-radiotherapy'],
    ['earlierColorectalCancer', 'colorectal-cancer'],
    ['antithrombotics', 'antithrombotic-use'],
    ['inflammatoryBowelDisease', 'inflammatory-bowel-disease'],
  ] as const

  it.each(kinds)('%s: by a condition, or by yes or no, and by nothing else', (field, code) => {
    expect(historyOf([condition(fact(code), before)], silent)[field]).toBe(true)
    expect(historyOf([answer(code, { valueBoolean: true })], silent)[field]).toBe(true)
    expect(historyOf([answer(code, { valueBoolean: false })], silent)[field]).toBe(false)
    const nothing = historyOf([], silent)
    const complete = historyOf([])
    for (const [one] of kinds) {
      expect(nothing[one]).toBeUndefined()
      expect(complete[one]).toBe(false)
    }
  })

  it('a silence that means none is named as what it is', () => {
    expect(historyOf([]).trail.evidence).toContainEqual(
      expect.objectContaining({ field: 'hereditarySyndrome', rung: 'nothing found in a complete feed' }),
    )
  })

  it('a yes against a no is not recorded, and listed', () => {
    const result = historyOf([
      condition(fact('hereditary-syndrome'), before),
      answer('hereditary-syndrome', { valueBoolean: false }),
    ])
    expect(result.hereditarySyndrome).toBeUndefined()
    expect(contradictionsOf(result)).toEqual(['history stated both ways'])
  })

  it('a no does not decide over a condition whose date is open', () => {
    const result = historyOf([colitis({}), answer('inflammatory-bowel-disease', { valueBoolean: false })])
    expect(result.inflammatoryBowelDisease).toBeUndefined()
  })

  it('an answer inside a panel counts, and one that cannot be read is listed', () => {
    const component = [
      { code: fact('stricture'), valueBoolean: true },
      { code: fact('severe-diverticulosis'), valueString: 'moderate' },
    ]
    const panel = answer('stricture', {}, { code: { text: 'Before the examination' }, component })
    const result = historyOf([panel], silent)
    expect(result).toMatchObject({ strictureKnown: true, severeDiverticulosis: undefined })
    expect(result.trail.unreadable).toMatchObject([
      { field: 'severeDiverticulosis', element: 'Observation.component.valueString' },
    ])
  })

  it('an antithrombotic that was stopped before is none any more', () => {
    const taken = (more: Resource) =>
      historyOf([condition(fact('antithrombotic-use'), { ...before, ...more })]).antithrombotics
    expect(taken({ abatementDateTime: '2026-03-01' })).toBe(false)
    expect(taken({ abatementDateTime: '2026-03-20' })).toBe(true)
    expect(taken({ abatementDateTime: '2026-03' })).toBeUndefined()
    expect(taken({ clinicalStatus: status('resolved') })).toBeUndefined()
  })

  it('a code of a past cancer tells of it when recorded before, and leaves it open when recorded later', () => {
    // SNOMED CT 429699009: history of malignant neoplasm of colon.
    const past = (recordedDate: string) =>
      historyOf([condition(snomed('429699009'), { recordedDate })]).earlierColorectalCancer
    expect(past('2020-01-01')).toBe(true)
    expect(past('2026-06-01')).toBeUndefined()
  })
})

describe('an inflammatory bowel disease seen on the day', () => {
  const seen = (conditions: Resource[], source = northmoor) =>
    historyOf(conditions, source).inflammatoryBowelDiseaseSeen
  const today = { recordedDate: '2026-03-10' }

  it('was first recorded that day, and not known before', () => {
    for (const source of [northmoor, silent]) expect(seen([colitis(today)], source)).toBe(true)
    expect(historyOf([colitis(today)], silent).inflammatoryBowelDisease).toBeUndefined()
  })

  it('was not, where it was known before and not recorded again', () => {
    expect(seen([colitis({ recordedDate: '2011-05-01' })])).toBe(false)
    expect(seen([])).toBe(false)
    expect(seen([], silent)).toBeUndefined()
  })

  it('stays open where what was recorded that day was or may have been known', () => {
    expect(seen([colitis({ recordedDate: '2011-05-01' }), colitis(today)])).toBeUndefined()
    expect(seen([colitis({ onsetDateTime: '2011', ...today })])).toBeUndefined()
    expect(seen([colitis({ onsetDateTime: '2026', ...today })])).toBeUndefined()
    expect(seen([colitis({ onsetString: 'since childhood', ...today })])).toBeUndefined()
    expect(seen([colitis({ onsetAge: { value: 30, code: 'a' }, ...today })])).toBeUndefined()
    expect(seen([colitis({}), colitis(today)])).toBeUndefined()
    expect(seen([colitis({ onsetDateTime: '2026-03-10', recordedDate: '2026-03-12' })])).toBeUndefined()
  })
})

describe('the activity of a known inflammatory bowel disease', () => {
  const activity = (...resources: Resource[]) => historyOf(resources).inflammatoryBowelDiseaseActivity
  const known = { recordedDate: '2011-05-01' }
  const observed = (word: string, effectiveDateTime: string) =>
    answer('inflammatory-activity', { valueCodeableConcept: fact(word) }, { effectiveDateTime })

  it('is quiescent in remission, else as its severity says', () => {
    expect(activity(colitis({ ...known, clinicalStatus: status('remission') }))).toBe('quiescent')
    expect(activity(colitis({ ...known, severity: fact('severe') }))).toBe('severe')
    expect(activity(colitis(known))).toBeUndefined()
  })

  it('is as last observed before, not as seen on the day', () => {
    const before = observed('active', '2026-02-01')
    const older = observed('quiescent', '2025-02-01')
    const onTheDay = observed('severe', '2026-03-10T09:10:00Z')
    expect(activity(colitis(known), older, before, onTheDay)).toBe('active')
    expect(activity(colitis(known), onTheDay)).toBeUndefined()
  })

  it('is nothing where no disease was known before', () => {
    expect(activity(observed('active', '2026-02-01'))).toBeUndefined()
    expect(activity(colitis({ recordedDate: '2026-03-10', severity: fact('severe') }))).toBeUndefined()
  })

  it('a severity that is none of ours is listed', () => {
    const { survey, inflammatoryBowelDiseaseActivity } = historyOf([
      colitis({ ...known, severity: snomed('24484000') }),
    ])
    expect(inflammatoryBowelDiseaseActivity).toBeUndefined()
    expect([...survey.unmatched.values()]).toMatchObject([{ where: 'Condition.severity', code: '24484000' }])
  })
})

describe('an earlier resection', () => {
  const resected = (more: Resource) => historyOf([operation(more)]).earlierResection

  it('is known from a completed procedure dated before', () => {
    expect(resected({ performedDateTime: '2020-01-01' })).toBe(true)
    expect(resected({ performedPeriod: { start: '2025' } })).toBe(true)
  })

  it('not from one that was not done, or came later; one without a usable date or status leaves it open', () => {
    expect(resected({ performedDateTime: '2020-01-01', status: 'not-done' })).toBe(false)
    expect(resected({ performedDateTime: '2026-03-11' })).toBe(false)
    expect(resected({})).toBeUndefined()
    expect(resected({ performedDateTime: '2026' })).toBeUndefined()
    expect(resected({ performedDateTime: '2020-01-01', status: 'unknown' })).toBeUndefined()
  })

  // SNOMED CT 26390003 total colectomy, 359571009 right hemicolectomy, 60184004 sigmoid colon.
  const before = { performedDateTime: '2020-01-01' }
  it.each<[string, Resource[], string | undefined]>([
    ['its code', [operation({ ...before, code: snomed('359571009') })], 'right'],
    ['its site', [operation({ ...before, bodySite: [snomed('60184004')] })], 'left'],
    [
      'the answer of the examination',
      [answer('earlier-resection', { valueCodeableConcept: fact('proctectomy') })],
      'rectum',
    ],
    [
      'two of them',
      [
        operation({ ...before, code: fact('right-hemicolectomy') }),
        operation({ performedDateTime: '2021', code: fact('left-hemicolectomy') }),
      ],
      'several',
    ],
    [
      'the total colon after a part',
      [
        operation({ ...before, code: fact('right-hemicolectomy') }),
        operation({ performedDateTime: '2021', code: snomed('26390003') }),
      ],
      'total',
    ],
    ['nothing', [operation(before)], undefined],
    ['one that came later', [operation({ performedDateTime: '2026-05-01', code: snomed('26390003') })], undefined],
  ])('says which part by %s', (_, resources, part) => {
    expect(historyOf(resources).resectedPart).toBe(part)
  })

  it('pelvic surgery is known from a completed procedure as well', () => {
    const pelvic = operation({ ...before, code: fact('pelvic-surgery-or-radiotherapy') })
    expect(historyOf([pelvic], silent)).toMatchObject({
      pelvicSurgeryOrRadiotherapy: true,
      earlierResection: undefined,
    })
  })
})

describe('where silence means nothing', () => {
  const dates = fc.constantFrom(undefined, '2020', '2026', '2026-02', '2026-03-09', '2026-03-10', '2026-04-01', 'soon')
  const verified = fc.constantFrom(undefined, status('confirmed'), status('provisional'), status('refuted'))
  const code = fc.constantFrom('stricture', 'inflammatory-bowel-disease', 'antithrombotic-use', 'earlier-resection')
  const someCondition = fc
    .tuple(code, dates, dates, dates, verified)
    .map(([word, onsetDateTime, recordedDate, abatementDateTime, verificationStatus]) =>
      condition(fact(word), { onsetDateTime, recordedDate, abatementDateTime, verificationStatus }),
    )
  const someOperation = fc
    .tuple(dates, fc.constantFrom('completed', 'not-done', 'unknown'))
    .map(([performedDateTime, state]) => operation({ performedDateTime, status: state }))
  const someAnswer = fc
    .tuple(code, fc.boolean(), fc.constantFrom('final', 'preliminary', 'entered-in-error'))
    .map(([word, valueBoolean, state]) => answer(word, { valueBoolean }, { status: state }))
  const story = fc.uniqueArray(fc.oneof(someCondition, someOperation, someAnswer), {
    minLength: 1,
    maxLength: 5,
    selector: ({ id }) => id,
  })

  /** The answers that some resources give, true and false only. */
  const answersOf = (resources: readonly Resource[]) =>
    Object.entries(historyOf(resources, silent)).filter(([, value]) => typeof value === 'boolean')

  it('taking away a resource, or one element of it, never turns yes into no or back', () => {
    let answers = 0
    fc.assert(
      fc.property(story, fc.nat(), fc.nat(), (resources, which, element) => {
        const before = answersOf(resources)
        answers += before.length
        const index = which % resources.length
        const spoilt = { ...(resources[index] as Resource) }
        const names = Object.keys(spoilt).filter((name) => name !== 'resourceType' && name !== 'id')
        delete spoilt[names[element % names.length] as string]
        for (const fewer of [resources.toSpliced(index, 1), resources.toSpliced(index, 1, spoilt)]) {
          const after = new Map(answersOf(fewer))
          for (const [field, value] of before) expect([value, undefined]).toContain(after.get(field))
        }
      }),
      { seed: 11, numRuns: 300 },
    )
    expect(answers).toBeGreaterThan(200)
  })

  it('the order of the resources changes nothing', () => {
    fc.assert(
      fc.property(story, (resources) => {
        expect(answersOf([...resources].reverse())).toEqual(answersOf(resources))
      }),
      { seed: 12, numRuns: 50 },
    )
  })
})
