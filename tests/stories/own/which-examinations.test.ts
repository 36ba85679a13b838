import { describe, expect, it } from 'vitest'
import { condition } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { examination, fact, pathology, snomed, tubularAdenoma, ulcerativeColitis } from '../examination.ts'
import { expectAnswers, expectFacts, measureIds } from '../expectations.ts'

// What counts as an examination: FHIR R4, Procedure and its status (event-status), Patient.link; which of two resources are one
// is common practice, no source. Rates by US 2024 and UK 2016 as their measures quote them.
describe('which examinations there are', () => {
  it('a gastroscopy of the same encounter keeps its own biopsies', () => {
    // Usual wrong answer: the stomach's jars and report are the colonoscopy's, so it took tissue and is no negative one.
    const subject = { reference: 'Patient/patient-g' }
    const encounter = { reference: 'Encounter/encounter-g' }
    const story = ask([
      ...examination({ id: 'g', withdrawalMinutes: 9 }),
      {
        resourceType: 'Procedure',
        id: 'gastroscopy',
        status: 'completed',
        code: { coding: [{ system: 'urn:oid:2.999.7', code: 'gastroscopy' }] },
        subject,
        encounter,
        performedPeriod: { start: '2026-03-10T09:35:00Z', end: '2026-03-10T09:45:00Z' },
        report: [{ reference: 'DiagnosticReport/stomach' }],
      },
      {
        resourceType: 'Procedure',
        id: 'gastric-biopsies',
        status: 'completed',
        code: fact('biopsy'),
        subject,
        encounter,
        partOf: [{ reference: 'Procedure/gastroscopy' }],
      },
      {
        resourceType: 'Specimen',
        id: 'antrum',
        subject,
        collection: { collectedDateTime: '2026-03-10', bodySite: fact('upper-gastrointestinal-tract') },
      },
      ...pathology('stomach', {
        issued: '2026-03-13T10:00:00Z',
        patient: 'patient-g',
        encounterOf: 'g',
        results: [{ specimen: 'antrum', code: tubularAdenoma }],
      }),
    ])
    expectFacts(story, {
      tissueTakenOrTreated: false,
      polypCount: 0,
      pathology: 'not-sent',
      adenomaFound: false,
      withdrawalMinutes: 9,
    })
    expectAnswers(story, { us: 'not-met', withdrawal: { code: 'met', value: 9 }, bleeding: 'out' })
  })

  it('the report’s resource and the bill’s copy of it are one examination', () => {
    // Usual wrong answer: two examinations, one of them without an operator and without an adenoma.
    const story = ask([
      ...examination({ id: 'a', polyps: [{ handling: 'removed', specimen: 'pot' }] }),
      ...pathology('p', { issued: '2026-03-14T10:00:00Z', results: [{ specimen: 'pot', code: tubularAdenoma }] }),
      {
        resourceType: 'Procedure',
        id: 'bill',
        status: 'completed',
        code: { coding: [{ system: 'http://www.ama-assn.org/go/cpt', code: '45385' }] },
        subject: { reference: 'Patient/patient-a' },
        performedDateTime: '2026-03-10',
      },
    ])
    expectFacts(story, {
      procedure: 'Procedure/a',
      operator: 'northmoor/Practitioner/operator-1',
      polypCount: 1,
      adenomaCount: 1,
    })
    expectAnswers(story, { us: 'met' })
    expect(story.leftOut).toEqual([{ reference: 'Procedure/bill', reason: 'second resource of one examination' }])
  })

  it('stopped for stool one day and repeated the next are two examinations', () => {
    // Usual wrong answer: the second replaces the first, and the failure is gone.
    const story = ask([
      ...examination({
        id: 'first',
        patient: 'p',
        status: 'stopped',
        stopReason: 'inadequate-preparation',
        extent: 'sigmoid',
        photographs: [],
        boston: { left: 0 },
      }),
      ...examination({ id: 'second', patient: 'p', birthDate: '1966-01-01', date: '2026-03-11' }),
    ])
    expect(story.counted(measureIds.caecum)).toEqual({ met: 1, 'not-met': 1 })
    expect(story.counted(measureIds.caecumAdjusted)).toEqual({ met: 1, excluded: 1 })
    expect(story.counted(measureIds.preparation)).toEqual({ met: 1, 'not-met': 1 })
    expect(story.leftOut).toEqual([])
  })

  it('a merged patient is one: history under the surviving record, examination under the old one', () => {
    // Usual wrong answer: no colitis is known of the old record, so the examination counts.
    const story = ask([
      ...examination({
        id: 'm',
        patient: 'old',
        person: {
          birthDate: undefined,
          active: false,
          link: [{ other: { reference: 'Patient/new' }, type: 'replaced-by' }],
        },
      }),
      { resourceType: 'Patient', id: 'new', birthDate: '1966-03-01', gender: 'female' },
      {
        ...condition('m', 'colitis', snomed(ulcerativeColitis), { recordedDate: '2015-01-01' }),
        subject: { reference: 'Patient/new' },
      },
    ])
    expectFacts(story, { age: 60, sex: 'female', inflammatoryBowelDisease: true })
    expectAnswers(story, { us: 'excluded', uk: 'out', perColonoscopy: 'excluded' })
  })

  it('orders, plans, claims, and procedures not done, entered in error or of unknown status count for nothing', () => {
    // Usual wrong answer: everything with the code of a colonoscopy is one: seven instead of one.
    const subject = { reference: 'Patient/patient-a' }
    const code = snomed('73761001')
    const other = (resourceType: string, id: string, more: object) => ({ resourceType, id, code, subject, ...more })
    const performedDateTime = '2026-03-09T09:00:00Z'
    const story = ask([
      ...examination({ id: 'a' }),
      other('Procedure', 'not-done', { status: 'not-done', performedDateTime }),
      other('Procedure', 'mistaken', { status: 'entered-in-error', performedDateTime }),
      other('Procedure', 'imported', { status: 'unknown', performedDateTime }),
      other('ServiceRequest', 'order', { status: 'completed', intent: 'order', occurrenceDateTime: '2026-03-10' }),
      other('CarePlan', 'plan', { status: 'active', intent: 'plan' }),
      other('Claim', 'claim', { status: 'active', item: [{ productOrService: code }] }),
    ])
    expectFacts(story, { procedure: 'Procedure/a' })
    expectAnswers(story, { caecum: 'met' })
    expect([...story.leftOut].sort((one, two) => (one.reference < two.reference ? -1 : 1))).toEqual([
      { reference: 'Procedure/imported', reason: 'status unknown' },
      { reference: 'Procedure/mistaken', reason: 'entered in error' },
      { reference: 'Procedure/not-done', reason: 'not done' },
    ])
  })

  it('a colonoscopy whose code system is written as an OID, sent twice, is one', () => {
    // Usual wrong answer: none, or two.
    const code = { coding: [{ system: 'urn:oid:2.16.840.1.113883.6.96', code: '73761001' }] }
    const resources = examination({ id: 'a', procedure: { code } })
    const story = ask([...resources, { resourceType: 'Bundle', entry: resources.map((resource) => ({ resource })) }])
    expectFacts(story, { procedure: 'Procedure/a', caecumReached: true, landmarkPhotographCount: 2 })
    expectAnswers(story, { caecum: 'met', us: 'not-met' })
  })

  it('a polypectomy with a colonoscopy code of its own is part of its colonoscopy, and took one polyp', () => {
    // Usual wrong answer: two colonoscopies, one without reason, report or caecum.
    const story = ask([
      ...examination({ id: 'a' }),
      {
        resourceType: 'Procedure',
        id: 'polypectomy',
        status: 'completed',
        code: snomed('446521004'),
        subject: { reference: 'Patient/patient-a' },
        performedDateTime: '2026-03-10T09:20:00Z',
        partOf: [{ reference: 'Procedure/a' }],
      },
    ])
    expectFacts(story, { procedure: 'Procedure/a', polypCount: 1, polypRemoved: true, tissueTakenOrTreated: true })
    // The feed of pathology is complete and no report came within its lag.
    expectAnswers(story, { us: 'not-recorded', bleeding: 'not-met', withdrawal: 'out', caecum: 'met' })
  })
})
