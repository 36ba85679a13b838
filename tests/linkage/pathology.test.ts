import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import {
  examination,
  fact,
  hyperplastic,
  type PolypFacts,
  pathology,
  snomed,
  tubularAdenoma,
} from '../stories/examination.ts'

// Each case was a wrong figure once. Right answers worked by hand: a count only when every piece of tissue is read and the
// diagnoses leave no doubt, the bounds always, and what may still come is pending.
type Resource = Record<string, unknown>
const us = 'adenoma-detection-rate-us-2024'
const perColonoscopy = 'adenomas-per-colonoscopy-descriptive'
const issued = '2026-03-14T10:00:00Z'
const removed: PolypFacts = { handling: 'removed' }
const inPot: PolypFacts = { handling: 'removed', specimen: 'pot' }
const normal = '30389008'

const child = (id: string, more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code: snomed('274025005'),
  partOf: [{ reference: 'Procedure/a' }],
  ...more,
})
const changed = (resources: Resource[], key: string, change: Resource) =>
  resources.map((one) => (`${one.resourceType}/${one.id}` === key ? { ...one, ...change } : one))
const report = (...results: { specimen?: string; code: string }[]) =>
  pathology('r', { issued, results, encounterOf: 'a' })
const reported = (polyps: PolypFacts[], ...results: { specimen?: string; code: string }[]) =>
  ask([...examination({ id: 'a', polyps }), ...report(...results)])

describe('tissue that was sent is waited for', () => {
  it('even where its Specimen resource never came', () => {
    const story = examination({ id: 'a', polyps: [inPot] }).filter(({ resourceType }) => resourceType !== 'Specimen')
    expect(ask(story, '2026-03-11').answer(us).code).toBe('pending')
    expect(ask(story).records[0]?.pathology).toBe('missing')
  })

  it('even where another pot of the examination is read', () => {
    const story = [
      ...examination({ id: 'a', polyps: [inPot], biopsyPots: ['other-pot'] }),
      ...report({ specimen: 'other-pot', code: hyperplastic }),
    ]
    expect(ask(story, '2026-03-20').answer(us).code).toBe('pending')
    expect(ask(story).answer(us).code).toBe('not-recorded')
  })

  it('where a polypectomy names no polyp', () => {
    const story = [...examination({ id: 'a' }), child('c')]
    expect(ask(story, '2026-03-11').answer(us).code).toBe('pending')
    expect(ask(story).answer(us).code).toBe('not-recorded')
  })

  it('where only the examination’s own code says that a polyp was removed', () => {
    const code = { coding: [{ system: 'http://www.ama-assn.org/go/cpt', code: '45385' }] }
    const story = changed(examination({ id: 'a' }), 'Procedure/a', { code })
    expect(ask(story, '2026-03-11').answer(us).code).toBe('pending')
    const [record] = ask(story).records
    expect(record).toMatchObject({ polypRemoved: true, pathology: 'missing' })
    expect(record?.polypCount).toBeUndefined()
  })

  it('a normal biopsy does not answer for a polyp that went without a pot', () => {
    const story = [
      ...examination({ id: 'a', polyps: [removed], biopsyPots: ['random'] }),
      ...report({ specimen: 'random', code: normal }),
    ]
    expect(ask(story, '2026-03-20').answer(us).code).toBe('pending')
  })
})

describe('several results of one pot are diagnoses of that pot', () => {
  it('as many as polyps: one each', () => {
    const story = reported(
      [inPot, inPot, inPot],
      ...[tubularAdenoma, hyperplastic, tubularAdenoma].map((code) => ({ specimen: 'pot', code })),
    )
    expect(story.records[0]).toMatchObject({ polypCount: 3, adenomaCount: 2, hyperplasticCount: 1 })
  })

  it('two words for one polyp are one adenoma', () => {
    expect(
      reported([inPot], { specimen: 'pot', code: tubularAdenoma }, { specimen: 'pot', code: '444408007' }).records[0]
        ?.adenomaCount,
    ).toBe(1)
  })

  it('three diagnoses as components of one result are three', () => {
    const story = [
      ...examination({ id: 'a', polyps: [inPot, inPot, inPot] }),
      ...report({ specimen: 'pot', code: 'none' }),
    ]
    const component = [tubularAdenoma, hyperplastic, tubularAdenoma].map((code) => ({
      code: fact('polyp'),
      valueCodeableConcept: snomed(code),
    }))
    const [record] = ask(
      changed(story, 'Observation/r-result-0', { valueCodeableConcept: undefined, component }),
    ).records
    expect(record).toMatchObject({ adenomaCount: 2, hyperplasticCount: 1 })
  })

  it('two conclusions over four pots leave the count open, between one and three', () => {
    const pots = ['p1', 'p2', 'p3', 'p4'].map((specimen): PolypFacts => ({ handling: 'removed', specimen }))
    const concluded = changed(
      pathology('r', { issued, results: pots.map(({ specimen = '' }) => ({ specimen, code: 'none' })) }),
      'DiagnosticReport/r',
      { result: undefined, conclusionCode: [snomed(tubularAdenoma), snomed(hyperplastic)] },
    )
    const [record] = ask([...examination({ id: 'a', polyps: pots }), ...concluded]).records
    expect(record).toMatchObject({ adenomaFound: true, adenomaCountLower: 1, adenomaCountUpper: 3 })
    expect(record?.adenomaCount).toBeUndefined()
  })

  it('a correction of one pot takes that pot from the earlier report', () => {
    const pots = ['p1', 'p2'].map((specimen): PolypFacts => ({ handling: 'removed', specimen }))
    const first = changed(
      pathology('r1', { issued, results: pots.map(({ specimen = '' }) => ({ specimen, code: 'none' })) }),
      'DiagnosticReport/r1',
      { result: undefined, conclusionCode: [snomed(tubularAdenoma)] },
    )
    const second = pathology('r2', {
      issued: '2026-03-20T10:00:00Z',
      status: 'corrected',
      results: [{ specimen: 'p1', code: hyperplastic }],
    })
    expect(ask([...examination({ id: 'a', polyps: pots }), ...first, ...second]).records[0]).toMatchObject({
      adenomaCount: 1,
      hyperplasticCount: 1,
    })
  })
})

describe('a result that names no class', () => {
  const note = (more: Resource) => ({
    resourceType: 'Observation',
    id: 'note',
    status: 'final',
    code: snomed('1'),
    specimen: { reference: 'Specimen/pot' },
    ...more,
  })

  it.each([
    ['a description of the same pot', { valueString: 'three fragments' }],
    ['a result entered in error', { status: 'entered-in-error', valueCodeableConcept: snomed(tubularAdenoma) }],
    ['a cancelled result', { status: 'cancelled' }],
  ])('%s does not make the pot unreadable', (_, more) => {
    const story = [...examination({ id: 'a', polyps: [inPot] }), ...report({ specimen: 'pot', code: hyperplastic })]
    const both = [{ reference: 'Observation/r-result-0' }, { reference: 'Observation/note' }]
    const [record] = ask([...changed(story, 'DiagnosticReport/r', { result: both }), note(more)]).records
    expect(record).toMatchObject({ pathology: 'final', adenomaFound: false })
  })
})

describe('lesions known before', () => {
  const seenAgain = (handling: string, specimen?: string): Resource => ({
    resourceType: 'Observation',
    id: 'old',
    status: 'final',
    code: snomed('399505005'),
    partOf: [{ reference: 'Procedure/a' }],
    ...(specimen !== undefined && { specimen: { reference: `Specimen/${specimen}` } }),
    component: [
      { code: fact('known-lesion-seen-again'), valueBoolean: true },
      { code: fact('polyp-handling'), valueCodeableConcept: fact(handling) },
    ],
  })

  it('are not found anew, whatever their pot holds', () => {
    const story = ask([
      ...examination({ id: 'a', reasons: ['surveillance'], withdrawalMinutes: 9 }),
      seenAgain('removed', 'pot'),
      { resourceType: 'Specimen', id: 'pot', subject: { reference: 'Patient/patient-a' } },
      ...report({ specimen: 'pot', code: tubularAdenoma }),
    ])
    expect(story.records[0]).toMatchObject({
      polypCount: 0,
      adenomaFound: false,
      polypRemoved: true,
      tissueTakenOrTreated: true,
    })
    expect(story.answer(us).code).toBe('not-met')
    expect(story.answer(perColonoscopy)).toMatchObject({ code: 'met', value: 0 })
    expect(story.answer('withdrawal-time-us-2024').code).toBe('out')
    expect(story.answer('post-polypectomy-bleeding-rate-30-day-descriptive').code).toBe('not-met')
  })

  it('take the polypectomy that names them', () => {
    const removal = child('c', { reasonReference: [{ reference: 'Observation/old' }] })
    const [record] = ask([...examination({ id: 'a' }), seenAgain('removed'), removal]).records
    expect(record).toMatchObject({ polypCount: 0, polypRemoved: true })
  })
})

describe('counts and bounds', () => {
  it('a polypectomy that names no polyp took the polyp that was removed', () => {
    const story = ask([
      ...examination({ id: 'a', polyps: [inPot] }),
      child('c'),
      ...report({ specimen: 'pot', code: hyperplastic }),
    ])
    expect(story.records[0]).toMatchObject({ polypCount: 1, adenomaCountUpper: 0 })
  })

  it('bounds allow what is still to come', () => {
    const story = [
      ...examination({ id: 'a', polyps: [inPot], biopsyPots: ['random'] }),
      ...report({ specimen: 'random', code: normal }),
    ]
    expect(ask(story, '2026-03-20').records[0]).toMatchObject({ adenomaCountLower: 0, adenomaCountUpper: 1 })
  })

  it('there are none while a report is open of which nothing is known', () => {
    const late = pathology('r', {
      issued: '2026-06-01T10:00:00Z',
      results: [{ code: tubularAdenoma }],
      encounterOf: 'a',
    })
    const [record] = ask([...examination({ id: 'a' }), ...late], '2026-03-20').records
    expect(record?.pathology).toBe('pending')
    expect(record?.adenomaCountUpper).toBeUndefined()
  })

  it('diagnoses without a pot are of polyps of which nobody said that they were taken', () => {
    expect(reported([{}, {}], { code: hyperplastic }, { code: hyperplastic }).records[0]).toMatchObject({
      adenomaFound: false,
      adenomaCount: 0,
    })
  })
})

describe('tissue of another organ', () => {
  const duodenum = {
    resourceType: 'Specimen',
    id: 'duodenum',
    subject: { reference: 'Patient/patient-a' },
    collection: { bodySite: fact('upper-gastrointestinal-tract') },
  }

  it('in a report that holds both says nothing of the colon', () => {
    const both = report({ specimen: 'duodenum', code: tubularAdenoma }, { specimen: 'colon', code: normal })
    const [record] = ask([...examination({ id: 'a', biopsyPots: ['colon'] }), duodenum, ...both]).records
    expect(record).toMatchObject({ polypCount: 0, adenomaFound: false })
  })

  it('in a report that another procedure names stays with that procedure', () => {
    const upper = {
      resourceType: 'Procedure',
      id: 'upper',
      status: 'completed',
      code: { text: 'Upper endoscopy' },
      encounter: { reference: 'Encounter/encounter-a' },
      report: [{ reference: 'DiagnosticReport/r' }],
    }
    const [record] = ask([
      ...examination({ id: 'a', withdrawalMinutes: 9 }),
      upper,
      ...report({ code: normal }),
    ]).records
    expect(record).toMatchObject({ tissueTakenOrTreated: false, pathology: 'not-sent' })
  })
})

describe('facts that must not flip', () => {
  it('a report still preliminary after the lag does not say that nothing was taken', () => {
    const story = ask(examination({ id: 'a', withdrawalMinutes: 9, report: 'preliminary' }), '2027-01-01')
    expect(story.records[0]?.tissueTakenOrTreated).toBeUndefined()
    expect(story.answer('withdrawal-time-us-2024').code).toBe('eligibility-not-recorded')
  })

  it('segment scores without their segment are no total', () => {
    const bare = examination({ id: 'a' }).map((one) => (one.valueInteger === 3 ? { ...one, bodySite: undefined } : one))
    expect(ask(bare).records[0]?.segmentsAllAtLeast2).toBeUndefined()
  })

  it('an empty partOf leaves the encounter to decide', () => {
    const bare = examination({ id: 'a', polyps: [removed] }).map((one) => (one.partOf ? { ...one, partOf: [] } : one))
    expect(ask(bare).records[0]).toMatchObject({ polypCount: 1, extent: 'caecum' })
  })

  it('a photographed anastomosis is no end of the bowel where the sigmoid is stated', () => {
    const story = ask(examination({ id: 'a', status: 'stopped', extent: 'sigmoid', photographs: ['anastomosis'] }))
    expect(story.records[0]?.caecumReached).toBe(false)
  })

  it('a unit that is a word of the language is no unit', () => {
    const odd = examination({ id: 'a', withdrawalMinutes: 9 }).map((one) =>
      one.valueQuantity ? { ...one, valueQuantity: { value: 9, unit: 'constructor' } } : one,
    )
    expect(ask(odd).records[0]?.withdrawalMinutes).toBeUndefined()
  })

  it('the initial population holds those whom the denominator leaves out', () => {
    const story = ask([...examination({ id: 'a' }), ...examination({ id: 'b', reasons: ['symptoms'] })])
    const { whole } = story.report('adenoma-detection-rate-uk-2016', { start: '2026-03-01', end: '2026-03-31' })
    expect(whole.settled).toMatchObject({ initialPopulation: 2, denominator: 1 })
  })
})
