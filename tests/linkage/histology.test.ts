import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import {
  examination,
  fact,
  hyperplastic,
  type PolypFacts,
  pathology,
  type Resource,
  snomed,
  tubularAdenoma,
  word,
  yesNo,
} from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// DiagnosticReport.status (final, amended, corrected, appended), result, conclusionCode, contained resources and
// Observation.hasMember: FHIR R4. Classes and grades of the codes: SNOMED CT.
const issued = '2026-03-14T10:00:00Z'
const tubulovillous = '61722000'
const severeOrLow = { low: '43185009' }
const unknownCode = '999999'
const inPot: PolypFacts = { handling: 'removed', specimen: 'pot', millimetres: 6 }
const one = examination({ id: 'a', polyps: [inPot] })
const result = (more: Resource, specimen = 'pot') => ({ specimen, code: 'none', more })
const report = (id: string, facts: { status?: string; issued?: string; more?: Resource }, ...results: Resource[]) =>
  pathology(id, { issued, ...facts, results: results.map((more) => result(more)) })
const polypOf = (...resources: Resource[]) => ask([...one, ...resources]).only().polyps?.[0]
const observation = (id: string, more: Resource): Resource => ({
  resourceType: 'Observation',
  id,
  status: 'final',
  code: { text: 'Part of a result' },
  ...more,
})

describe('a yes or no to a class of histology', () => {
  const asked = (code: Resource, valueBoolean: boolean) =>
    ask([...one, ...report('r', {}, { valueCodeableConcept: undefined, code, valueBoolean })]).only()

  it('yes is the class', () => {
    expect(asked(fact('conventional-adenoma'), true)).toMatchObject({ adenomaFound: true, adenomaCount: 1 })
    expect(asked(fact('hyperplastic'), true)).toMatchObject({ adenomaFound: false, hyperplasticCount: 1 })
  })

  it('no to adenoma is something else; no to any other class leaves open what it is', () => {
    expect(asked(fact('conventional-adenoma'), false)).toMatchObject({ adenomaFound: false, otherHistologyCount: 1 })
    for (const code of [fact('hyperplastic'), fact('cancer'), snomed(tubulovillous)]) {
      const { pathology, adenomaFound } = asked(code, false)
      expect([pathology, adenomaFound]).toEqual(['unreadable', undefined])
    }
  })

  it('in components is read alike', () => {
    const component = [
      { code: fact('conventional-adenoma'), valueBoolean: false },
      { code: fact('sessile-serrated-lesion'), valueBoolean: true },
    ]
    const [record] = ask([...one, ...report('r', {}, { valueCodeableConcept: undefined, component })]).records
    expect(record).toMatchObject({ adenomaFound: false, sessileSerratedCount: 1, otherHistologyCount: 0 })
  })

  it('a grade as the value of a question for an adenoma does not say that there is one', () => {
    const graded = { code: snomed('444408007'), valueCodeableConcept: snomed(severeOrLow.low) }
    const { pathology, adenomaFound } = ask([...one, ...report('r', {}, graded)]).only()
    expect([pathology, adenomaFound]).toEqual(['unreadable', undefined])
  })
})

describe('what one result says of a polyp', () => {
  it.each([
    ['tubulovillous adenoma by its code', { valueCodeableConcept: snomed(tubulovillous) }, { villous: true }],
    ['tubular adenoma by its code', { valueCodeableConcept: snomed(tubularAdenoma) }, { villous: false }],
    [
      'a grade as a component',
      { valueCodeableConcept: snomed(tubularAdenoma), component: [word('dysplasia-grade', 'high-grade')] },
      { villous: false, dysplasia: 'high-grade' },
    ],
    [
      'an architecture as a component',
      {
        valueCodeableConcept: snomed('399432003'),
        component: [{ code: { text: 'x' }, valueCodeableConcept: fact('villous') }],
      },
      { villous: true, dysplasia: undefined },
    ],
  ])('%s', (_, value, expected) => {
    expect(polypOf(...report('r', {}, value))).toMatchObject({ histology: 'conventional-adenoma', ...expected })
  })

  it('members of a panel without a value of its own are one diagnosis with its details', () => {
    const members = [
      observation('type', { valueCodeableConcept: snomed('399432003') }),
      observation('architecture', { valueCodeableConcept: fact('tubular') }),
      observation('grade', { valueCodeableConcept: fact('low-grade') }),
    ]
    const panel = {
      valueCodeableConcept: undefined,
      hasMember: members.map(({ id }) => ({ reference: `Observation/${id}` })),
    }
    const story = ask([...one, ...report('r', {}, panel), ...members])
    expect(story.only()).toMatchObject({ adenomaCount: 1, otherHistologyCount: 0, highGradeDysplasiaFound: false })
    expect(story.only().polyps?.[0]).toMatchObject({ villous: false, dysplasia: 'low-grade' })
  })

  it('several results of one pot with one polyp: the grade told apart is a detail, not a second finding', () => {
    const results = [{ valueCodeableConcept: snomed(tubularAdenoma) }, { valueCodeableConcept: fact('high-grade') }]
    const story = ask([...one, ...report('r', {}, ...results)])
    expect(story.only()).toMatchObject({ adenomaCount: 1, otherHistologyCount: 0, highGradeDysplasiaFound: true })
    expect(story.only().polyps?.[0]).toMatchObject({ dysplasia: 'high-grade' })
    expect(story.takenDown().contradictions).toEqual([])
  })

  it('of several codings the lesion stands before the grade, in whatever order', () => {
    const codings = [severeOrLow.low, tubularAdenoma].map((code) => ({ system: 'http://snomed.info/sct', code }))
    for (const coding of [codings, [...codings].reverse()])
      expect(polypOf(...report('r', {}, { valueCodeableConcept: { coding } }))).toMatchObject({
        histology: 'conventional-adenoma',
        dysplasia: 'low-grade',
      })
  })

  it('a component that repeats the class of its result only describes it; components alone are one each', () => {
    const component = [{ code: { text: 'x' }, valueCodeableConcept: snomed(tubularAdenoma) }]
    const pot = [inPot, inPot]
    const counted = (more: Resource) =>
      ask([...examination({ id: 'a', polyps: [...pot, inPot] }), ...report('r', {}, more)]).only()
    expect(counted({ valueCodeableConcept: snomed(tubularAdenoma), component })).toMatchObject({ adenomaCount: 3 })
    const two = [...component, ...component]
    expect(counted({ valueCodeableConcept: undefined, component: two })).toMatchObject({
      adenomaCountLower: 2,
      adenomaCountUpper: 3,
    })
    const graded = [...two, { code: { text: 'x' }, valueCodeableConcept: fact('high-grade') }]
    expect(counted({ valueCodeableConcept: undefined, component: graded })).toMatchObject({
      adenomaCountLower: 2,
      highGradeDysplasiaFound: true,
    })
  })

  it('a contained result is found', () => {
    const contained = [observation('c', { valueCodeableConcept: snomed(tubularAdenoma) })]
    expect(polypOf(...report('r', { more: { contained, result: [{ reference: '#c' }] } }, {}))?.histology).toBe(
      'conventional-adenoma',
    )
  })
})

describe('results that are not there', () => {
  it('one of two that leads nowhere is not spoken for by the other', () => {
    const pots = ['p1', 'p2']
    const story = [
      ...examination({ id: 'a', polyps: pots.map((specimen) => ({ handling: 'removed', specimen })) }),
      ...pathology('r', {
        issued,
        results: pots.map((specimen) => ({ specimen, code: hyperplastic, more: { specimen: undefined } })),
      }).filter(({ id }) => id !== 'r-result-1'),
    ]
    expect(ask(story).only()).toMatchObject({ pathology: 'missing', adenomaFound: undefined })
  })

  it('one issued after the as-of instant is waited for', () => {
    const late = report('r', {}, { valueCodeableConcept: snomed(hyperplastic), issued: '2026-03-20T10:00:00Z' })
    expect(ask([...one, ...late], '2026-03-16').only()).toMatchObject({ pathology: 'pending', adenomaFound: undefined })
    expect(ask([...one, ...late], '2026-03-21').only()).toMatchObject({ pathology: 'final', adenomaFound: false })
  })
})

describe('a report that nobody can read', () => {
  it.each([
    ['whose results name the pots', ['p1', 'p2']],
    ['whose results name none', [undefined, undefined]],
  ])('%s has come for every pot all the same', (_, named) => {
    const pots = ['p1', 'p2']
    const results = named.map((pot) => ({
      code: unknownCode,
      more: pot === undefined ? {} : { specimen: { reference: `Specimen/${pot}` } },
    }))
    const record = ask([
      ...examination({ id: 'a', polyps: pots.map((specimen) => ({ handling: 'removed', specimen })) }),
      ...pathology('r', { issued, encounterOf: 'a', results }),
    ]).only()
    expect([record.pathology, record.adenomaFound]).toEqual(['unreadable', undefined])
  })
})

describe('a further report of the same pot', () => {
  const first = report('r1', {}, { valueCodeableConcept: snomed(tubularAdenoma) })
  const later = (status: string, code: string) =>
    report('r2', { status, issued: '2026-04-01T10:00:00Z' }, { valueCodeableConcept: snomed(code) })

  it('that names no class we know adds a test, and leaves the diagnosis', () => {
    for (const status of ['final', 'appended'])
      expect(ask([...one, ...first, ...later(status, unknownCode)]).only()).toMatchObject({
        pathology: 'final',
        adenomaCount: 1,
      })
  })

  it('that corrects it takes the diagnosis away, even where nobody can read the new one', () => {
    for (const status of ['amended', 'corrected'])
      expect(ask([...one, ...first, ...later(status, unknownCode)]).only()).toMatchObject({
        pathology: 'unreadable',
        adenomaFound: undefined,
      })
  })

  it('that names a class is the one that stands', () => {
    expect(ask([...one, ...first, ...later('final', hyperplastic)]).only()).toMatchObject({
      adenomaFound: false,
      hyperplasticCount: 1,
    })
  })
})

describe('free text', () => {
  const reading = { ...northmoor, readsText: true }
  const written = (more: Resource) => [
    ...one,
    ...report('r', { more }, { valueCodeableConcept: undefined, valueString: 'see text' }),
  ]
  const conclusion = 'DIAGNOSIS: Ascending colon, polyp: tubulovillous adenoma with high-grade dysplasia.'

  it('is not read unless the source says so', () => {
    expect(ask(written({ conclusion })).only()).toMatchObject({
      pathology: 'unreadable',
      histologySource: undefined,
      adenomaFound: undefined,
    })
  })

  it('is read where it says so, and every fact of it is marked', () => {
    const story = ask(written({ conclusion }), '2027-01-01', reading)
    expect(story.only()).toMatchObject({
      pathology: 'final',
      histologySource: 'text',
      adenomaCount: 1,
      villousAdenomaFound: true,
      highGradeDysplasiaFound: true,
      largestAdenomaMillimetres: 6,
    })
    const { doubts, rungsOf } = story.takenDown()
    expect(doubts).toEqual(['histology read from free text'])
    expect(new Set(rungsOf('adenomaCount'))).toEqual(new Set(['read from free text']))
  })

  it('stands in an attachment as well; one that says no adenoma is a negative result', () => {
    const presentedForm = (text: string) => [{ contentType: 'text/plain', data: btoa(text) }]
    const read = (text: string) => ask(written({ presentedForm: presentedForm(text) }), '2027-01-01', reading).only()
    expect(read(conclusion).adenomaCount).toBe(1)
    expect(read('DIAGNOSIS: Colonic mucosa. Negative for adenoma.')).toMatchObject({
      pathology: 'final',
      adenomaFound: false,
    })
    expect(read('Gross: one fragment of tissue.')).toMatchObject({ pathology: 'unreadable', adenomaFound: undefined })
  })

  it('is not read where the codes say it', () => {
    const coded = [...one, ...report('r', { more: { conclusion } }, { valueCodeableConcept: snomed(hyperplastic) })]
    expect(ask(coded, '2027-01-01', reading).only()).toMatchObject({ histologySource: 'coded', adenomaFound: false })
  })
})

describe('a prediction at endoscopy', () => {
  it('is never histology', () => {
    const said = [word('predicted-histology', 'conventional-adenoma'), yesNo('polyp-tattooed', false)]
    const polyp = ask(examination({ id: 'a', polyps: [{ handling: 'left', said }] })).only()
    expect(polyp.polyps?.[0]).toMatchObject({ predictedHistology: 'conventional-adenoma', histology: undefined })
    expect(polyp).toMatchObject({ adenomaFound: false, adenomaCount: 0 })
  })
})
