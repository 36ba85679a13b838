import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import {
  dysplasia,
  examination,
  fact,
  hyperplastic,
  type PolypFacts,
  pathology,
  type Resource,
  snomed,
  tubularAdenoma,
  ulcerativeColitis,
  word,
} from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// DiagnosticReport.result, basedOn and status, Observation.hasMember and valueBoolean, Specimen.request: FHIR R4. Conventional
// adenomas alone count for detection (US 2024 and UK 2016, the choices that their measures quote).
const taken = (specimen: string): PolypFacts => ({ handling: 'removed', specimen })
const local = (code: string) => ({ coding: [{ system: 'urn:oid:2.999.7', code }] })
const issued = '2026-03-14T10:00:00Z'
const cancer = '1187332001'
const sessileSerrated = '443157008'

describe('what the tissue was', () => {
  it('one result over a pot of three polyps is of all three', () => {
    // Usual wrong answer: one adenoma, since there is one result.
    const story = ask([
      ...examination({ id: 'a', polyps: [taken('pot'), taken('pot'), taken('pot')] }),
      ...pathology('p', { issued, results: [{ specimen: 'pot', code: tubularAdenoma }] }),
    ])
    expectFacts(story, { polypCount: 3, adenomaFound: true, adenomaCount: 3, pathology: 'final' })
    expectAnswers(story, { us: 'met', perColonoscopy: { code: 'met', value: 3 } })
  })

  /** The report of one polyp that says yes or no to a diagnosis, which the result's code names. */
  const answered = (code: Resource, valueBoolean: boolean) => [
    ...examination({ id: 'a', polyps: [taken('pot')] }),
    ...pathology('p', {
      issued,
      results: [{ specimen: 'pot', code: '', more: { code, valueCodeableConcept: undefined, valueBoolean } }],
    }),
  ]

  it('adenoma answered with no is no adenoma', () => {
    // Usual wrong answer: the code is there, so it counts.
    const story = ask(answered(fact('conventional-adenoma'), false))
    expectFacts(story, { adenomaFound: false, adenomaCount: 0 })
    expectAnswers(story, { us: 'not-met', perColonoscopy: { code: 'met', value: 0 } })
  })

  it('a tubular adenoma answered with no leaves a villous one open', () => {
    // Usual wrong answer: an adenoma, or none. A conventional adenoma is tubular, tubulovillous or villous (US 2015, from memory).
    const story = ask(answered(snomed('444408007'), false))
    expectFacts(story, { adenomaFound: undefined, adenomaCountLower: 0, adenomaCountUpper: 1 })
    expectAnswers(story, { us: 'not-recorded' })
  })

  it('a tubular adenoma answered with yes is one', () => {
    // Usual wrong answer: no concept as a value, so nothing is read.
    const story = ask(answered(snomed('444408007'), true))
    expectFacts(story, { adenomaFound: true, adenomaCount: 1 })
    expectAnswers(story, { us: 'met' })
  })

  it('a preliminary adenoma that is amended to hyperplastic was never one; until then it is pending', () => {
    // Usual wrong answer: both reports count.
    const resources = [
      ...examination({ id: 'a', polyps: [taken('pot')] }),
      ...pathology('first', {
        issued: '2026-03-12T10:00:00Z',
        status: 'preliminary',
        results: [{ specimen: 'pot', code: tubularAdenoma }],
      }),
      ...pathology('second', {
        issued: '2026-03-20T10:00:00Z',
        status: 'amended',
        results: [{ specimen: 'pot', code: hyperplastic }],
      }),
    ]
    expectFacts(ask(resources, '2026-03-15'), { pathology: 'pending', adenomaFound: undefined })
    expectAnswers(ask(resources, '2026-03-15'), { us: 'pending' })
    const story = ask(resources)
    expectFacts(story, { pathology: 'final', adenomaFound: false, hyperplasticCount: 1 })
    expectAnswers(story, { us: 'not-met' })
  })

  it('of two versions of one report the newer stands', () => {
    // Usual wrong answer: whichever page it was on.
    const version = (versionId: string, status: string, code: string) =>
      pathology('p', { issued, status, results: [{ specimen: 'pot', code }] }).map((one) => ({
        ...one,
        meta: { versionId },
      }))
    const older = version('1', 'final', tubularAdenoma)
    const newer = version('2', 'corrected', hyperplastic)
    for (const both of [
      [...older, ...newer],
      [...newer, ...older],
    ])
      expectFacts(ask([...examination({ id: 'a', polyps: [taken('pot')] }), ...both]), {
        adenomaFound: false,
        hyperplasticCount: 1,
      })
  })

  it('a report two hops away, by the specimen’s order, with its result two members deep, is found', () => {
    // Usual wrong answer: no encounter and no date in common, so histology is missing.
    const order = [{ reference: 'ServiceRequest/order' }]
    const story = ask([
      ...examination({
        id: 'a',
        polyps: [{ handling: 'removed' }],
        procedure: { basedOn: order },
      }),
      { resourceType: 'ServiceRequest', id: 'order', status: 'completed', intent: 'order' },
      { resourceType: 'Specimen', id: 'jar', request: order },
      ...pathology('p', {
        issued,
        results: [
          {
            specimen: 'jar',
            code: tubularAdenoma,
            more: { valueCodeableConcept: undefined, hasMember: [{ reference: 'Observation/panel' }] },
          },
        ],
      }),
      {
        resourceType: 'Observation',
        id: 'panel',
        status: 'final',
        code: { text: 'Diagnoses' },
        hasMember: [{ reference: 'Observation/diagnosis' }],
      },
      {
        resourceType: 'Observation',
        id: 'diagnosis',
        status: 'final',
        code: { text: 'Diagnosis' },
        valueCodeableConcept: snomed(tubularAdenoma),
      },
    ])
    expectFacts(story, { pathology: 'final', adenomaFound: true, adenomaCount: 1 })
    expectAnswers(story, { us: 'met', perColonoscopy: { code: 'met', value: 1 } })
  })

  it('high-grade dysplasia in random biopsies of colitis is a class of its own, no adenoma and no advanced one', () => {
    // Usual wrong answer: an advanced adenoma.
    const story = ask([
      ...examination({
        id: 'a',
        reasons: ['surveillance'],
        biopsyPots: ['random'],
        history: [{ code: snomed(ulcerativeColitis), recorded: '2010-01-01' }],
      }),
      ...pathology('p', {
        issued,
        encounterOf: 'a',
        results: [
          { specimen: 'random', code: dysplasia, more: { component: [word('dysplasia-grade', 'high-grade')] } },
        ],
      }),
    ])
    expectFacts(story, {
      polypCount: 0,
      adenomaFound: false,
      adenomaCount: 0,
      highGradeDysplasiaFound: false,
      colitisDysplasiaFound: true,
      tissueTakenOrTreated: true,
    })
    expectAnswers(story, { us: 'excluded', uk: 'not-met', withdrawal: 'out' })
  })

  it('the report of a mole on a foot, of the same patient and week, says nothing of the colon', () => {
    // Usual wrong answer: any pathology of the patient is the examination's.
    const story = ask([
      ...examination({ id: 'a', withdrawalMinutes: 9 }),
      {
        resourceType: 'Specimen',
        id: 'skin',
        subject: { reference: 'Patient/patient-a' },
        collection: { collectedDateTime: '2026-03-10', bodySite: local('foot') },
      },
      ...pathology('p', {
        issued,
        patient: 'patient-a',
        results: [{ specimen: 'skin', code: '', more: { valueCodeableConcept: local('mole') } }],
      }),
    ])
    expectFacts(story, { tissueTakenOrTreated: false, pathology: 'not-sent', adenomaFound: false })
    expectAnswers(story, { us: 'not-met', withdrawal: { code: 'met', value: 9 } })
  })

  it.each([
    ['a cancer without an adenoma', cancer, { cancerCount: 1, sessileSerratedCount: 0 }],
    ['a sessile serrated lesion', sessileSerrated, { cancerCount: 0, sessileSerratedCount: 1 }],
  ])('%s does not count for adenoma detection', (_, code, counts) => {
    // Usual wrong answer: every neoplasm is an adenoma.
    const story = ask([
      ...examination({ id: 'a', reasons: ['symptoms'], polyps: [taken('pot')] }),
      ...pathology('p', { issued, results: [{ specimen: 'pot', code }] }),
    ])
    expectFacts(story, { adenomaFound: false, ...counts })
    expectAnswers(story, { us: 'not-met', uk: 'not-met' })
  })

  it('a diagnosis in a local code that nobody mapped is unreadable, not negative, and is listed', () => {
    // Usual wrong answer: no adenoma.
    const more = { valueCodeableConcept: local('T8140') }
    const story = ask([
      ...examination({ id: 'a', polyps: [taken('pot')] }),
      ...pathology('p', { issued, results: [{ specimen: 'pot', code: tubularAdenoma, more }] }),
    ])
    expectFacts(story, { pathology: 'unreadable', adenomaFound: undefined, adenomaCountUpper: 1 })
    expectAnswers(story, { us: 'not-recorded' })
    expect(story.takenDown().unmatched).toContainEqual(
      expect.objectContaining({ system: 'urn:oid:2.999.7', code: 'T8140' }),
    )
  })

  it('a result of a polyp that was left in place: the contradiction is listed', () => {
    // Usual wrong answer: one of the two is dropped in silence.
    const story = ask([
      ...examination({ id: 'a', polyps: [{ handling: 'left', specimen: 'pot' }] }),
      ...pathology('p', { issued, results: [{ specimen: 'pot', code: tubularAdenoma }] }),
    ])
    expect(story.takenDown().contradictions).toContain('polyp left or lost, with histology of its own')
    expectFacts(story, { adenomaFound: true })
  })
})
