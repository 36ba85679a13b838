import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, hyperplastic, type Resource, snomed, tubularAdenoma } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { diagnosis, reportOf, resultOf, sharedEncounter, specimens, to, unmapped } from './result-forms.ts'

// DiagnosticReport.result, Observation.hasMember, Observation.specimen: FHIR R4. A result that nobody can read may be any class.
const silent = { ...northmoor, completeFeeds: [] }
const removed = { handling: 'removed' as const }
const polypsIn = (...pots: string[]) =>
  examination({ id: 'a', polyps: pots.map((specimen) => ({ ...removed, specimen })) })
const isOpen = { pathology: 'unreadable', adenomaFound: undefined, hyperplasticCount: undefined }
const result = [to('Observation/a'), to('Observation/b')]
const coded = (id: string, specimen?: string) => resultOf(id, { valueCodeableConcept: unmapped }, specimen)

describe('a coded result that nobody can read', () => {
  it('is not spoken for by a diagnosis of the same pot', () => {
    for (const pots of [['A'], ['A', 'A']]) {
      const story = ask([
        ...polypsIn(...pots),
        reportOf('r', { specimen: specimens('A'), result }),
        diagnosis('a', hyperplastic, 'A'),
        coded('b', 'A'),
      ])
      expect(story.only()).toMatchObject({ ...isOpen, adenomaCountLower: 0, adenomaCountUpper: 1 })
      expect(story.takenDown().unreadable).toEqual(['pathology'])
      expect(story.takenDown().unmatched).toContainEqual(expect.objectContaining({ code: 'TA' }))
      expect(story.inAnotherOrder()).toEqual(story.records)
    }
  })

  it('leaves the adenoma beside it, which is there whatever else is', () => {
    const story = ask([
      ...polypsIn('A'),
      reportOf('r', { specimen: specimens('A'), result }),
      diagnosis('a', tubularAdenoma, 'A'),
      coded('b', 'A'),
    ])
    expect(story.only()).toMatchObject({ adenomaFound: true, adenomaCount: 1, cancerCount: undefined })
    expect(story.only().villousAdenomaFound).toBeUndefined()
  })

  it('is not spoken for by another member of its panel', () => {
    const panel = (...named: (string | undefined)[]) =>
      ask([
        ...polypsIn('A', 'B'),
        reportOf('r', { specimen: specimens('A', 'B'), result: [to('Observation/p')] }),
        resultOf('p', { hasMember: result }),
        diagnosis('a', hyperplastic, named[0]),
        coded('b', named[1]),
      ]).only()
    expect(panel('A', 'B')).toMatchObject(isOpen)
    expect(panel(undefined, undefined)).toMatchObject(isOpen)
  })

  it('without a pot may be of a polyp more than the one that is told', () => {
    const story = ask(
      [
        ...examination({ id: 'a' }),
        reportOf('r', { ...sharedEncounter, result }),
        diagnosis('a', hyperplastic),
        coded('b'),
      ],
      '2027-01-01',
      silent,
    )
    expect(story.only()).toMatchObject({ ...isOpen, polypCount: undefined, adenomaCountUpper: undefined })
  })

  it('that says where the tissue lay is no diagnosis', () => {
    const site = resultOf('b', { valueCodeableConcept: snomed('60184004') }, 'A')
    const { pathology, adenomaFound } = ask([
      ...polypsIn('A'),
      reportOf('r', { specimen: specimens('A'), result }),
      diagnosis('a', hyperplastic, 'A'),
      site,
    ]).only()
    expect([pathology, adenomaFound]).toEqual(['final', false])
  })
})

describe('a result in words', () => {
  const words = (specimen?: string, more: Resource = {}) =>
    resultOf('b', { valueString: 'Tubular adenoma', ...more }, specimen)

  it('beside the diagnosis of the only polyp of its pot is a note', () => {
    const story = ask([
      ...polypsIn('A'),
      reportOf('r', { specimen: specimens('A'), result }),
      diagnosis('a', hyperplastic, 'A'),
      words('A'),
    ])
    expect(story.only()).toMatchObject({ pathology: 'final', adenomaFound: false })
    expect(story.takenDown().unmatched).toContainEqual(expect.objectContaining({ words: 'Tubular adenoma' }))
  })

  it('may be the diagnosis of the other polyp where the pot holds two', () => {
    expect(
      ask([
        ...polypsIn('A', 'A'),
        reportOf('r', { specimen: specimens('A'), result }),
        diagnosis('a', hyperplastic, 'A'),
        words('A'),
      ]).only(),
    ).toMatchObject(isOpen)
  })

  it('without a pot is not read as nothing', () => {
    const story = ask([
      ...examination({ id: 'a', polyps: [removed] }),
      reportOf('r', { ...sharedEncounter, result }),
      diagnosis('a', hyperplastic),
      words(),
    ])
    expect(story.only()).toMatchObject(isOpen)
    expect(story.takenDown().unreadable).toEqual(['pathology'])
  })

  it('on the whole of a report that has a diagnosis of every pot is a note', () => {
    expect(
      ask([
        ...polypsIn('A', 'B'),
        reportOf('r', { specimen: specimens('A', 'B'), result: [...result, to('Observation/c')] }),
        diagnosis('a', hyperplastic, 'A'),
        words(),
        diagnosis('c', hyperplastic, 'B'),
      ]).only(),
    ).toMatchObject({ pathology: 'final', adenomaFound: false, hyperplasticCount: 2 })
  })

  // LOINC 22634-0: Pathology report gross observation.
  it('that only describes what was sent is no diagnosis, whatever it holds', () => {
    const gross = { coding: [{ system: 'http://loinc.org', code: '22634-0' }] }
    for (const more of [{ code: gross }, { code: gross, valueString: undefined, valueCodeableConcept: unmapped }])
      expect(
        ask([
          ...examination({ id: 'a', polyps: [removed] }),
          reportOf('r', { ...sharedEncounter, result }),
          diagnosis('a', hyperplastic),
          words(undefined, more),
        ]).only(),
      ).toMatchObject({ pathology: 'final', adenomaFound: false })
  })
})

describe('the coded conclusion of a report with results', () => {
  const concluded = (conclusionCode: Resource[], ...results: Resource[]) =>
    ask([
      ...examination({ id: 'a', polyps: [removed] }),
      reportOf('r', { ...sharedEncounter, result: [to('Observation/a')], conclusionCode }),
      ...results,
    ])

  it('that names a lesion of which no result tells is not left out', () => {
    const story = concluded([snomed(tubularAdenoma)], diagnosis('a', hyperplastic))
    expect(story.only()).toMatchObject({ adenomaFound: true, adenomaCount: 1 })
    expect(story.takenDown().contradictions).toEqual(['more diagnoses than pieces of tissue'])
  })

  it('that sums up the results adds nothing', () => {
    const story = concluded([snomed(tubularAdenoma)], diagnosis('a', tubularAdenoma))
    expect(story.only()).toMatchObject({ adenomaCount: 1, polypCount: 1 })
    expect(story.takenDown().contradictions).toEqual([])
  })
})

describe('a cancer and the adenoma it arose in', () => {
  it('are both found in the one polyp', () => {
    const story = ask([
      ...polypsIn('A'),
      reportOf('r', { specimen: specimens('A'), result }),
      diagnosis('a', '1187332001', 'A'),
      diagnosis('b', tubularAdenoma, 'A'),
    ])
    expect(story.only()).toMatchObject({ polypCount: 1, adenomaFound: true, adenomaCount: 1, cancerCount: 1 })
    expect(story.only().polyps?.[0]?.histology).toBe('cancer')
    expect(story.takenDown().contradictions).toEqual([])
    expect(story.answer('adenoma-detection-rate-us-2024').code).toBe('met')
  })
})
