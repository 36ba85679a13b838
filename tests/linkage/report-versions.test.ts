import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, hyperplastic, type Resource, snomed, tubularAdenoma } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { diagnosis, reportOf, sharedEncounter, specimens, to } from './result-forms.ts'

// DiagnosticReport.identifier and status (registered, final, amended, corrected, appended): FHIR R4.
const silent = { ...northmoor, completeFeeds: [] }
const accession = (value: string) => ({ identifier: [{ system: 'urn:accession', value }] })
const first = (more: Resource = {}, code = tubularAdenoma) => [
  reportOf('r1', { ...sharedEncounter, result: [to('Observation/a')], ...more }),
  diagnosis('a', code),
]
const later = (status: string, more: Resource = {}, code = hyperplastic) => [
  reportOf('r2', {
    ...sharedEncounter,
    status,
    issued: '2026-03-20T12:00:00Z',
    result: [to('Observation/b')],
    ...more,
  }),
  diagnosis('b', code),
]
const onePolyp = examination({ id: 'a', polyps: [{ handling: 'removed' }] })
const onePot = examination({ id: 'a', polyps: [{ handling: 'removed', specimen: 'A' }] })
const oneHyperplastic = { pathology: 'final', adenomaFound: false, hyperplasticCount: 1, polypCount: 1 }

describe('a report that corrects another without naming a specimen', () => {
  it.each([
    ['with the same identifier', accession('1')],
    ['without an identifier', {}],
  ])('%s takes its place', (_, more) => {
    for (const status of ['corrected', 'amended']) {
      const story = ask([...onePolyp, ...first(more), ...later(status, more)])
      expect(story.only()).toMatchObject(oneHyperplastic)
      expect(story.inAnotherOrder()).toEqual(story.records)
    }
  })

  it('takes its place where the results are conclusions', () => {
    const concluded = (code: string) => ({ result: undefined, conclusionCode: [snomed(code)] })
    expect(
      ask([...onePolyp, ...first(concluded(tubularAdenoma)), ...later('corrected', concluded(hyperplastic))]).only(),
    ).toMatchObject(oneHyperplastic)
  })

  it('speaks of the pots that the first one named', () => {
    const [record] = ask([...onePot, ...first({ specimen: specimens('A') }), ...later('corrected')]).records
    expect(record).toMatchObject(oneHyperplastic)
    expect(record?.polyps?.[0]?.histology).toBe('hyperplastic')
  })

  it('tells of no second polyp', () => {
    expect(
      ask(
        [...examination({ id: 'a' }), ...first(), ...later('amended', {}, tubularAdenoma)],
        '2027-01-01',
        silent,
      ).only(),
    ).toMatchObject({ polypCount: 1, adenomaCount: 1 })
  })

  it('of another accession number corrects neither it nor anything that is here', () => {
    const story = ask([...onePolyp, ...first(accession('1')), ...later('corrected', accession('2'))])
    expect(story.only().adenomaFound).toBe(true)
  })

  it('where two reports could be meant leaves open which of them stands', () => {
    const pots = examination({ id: 'a', polyps: ['A', 'B'].map((specimen) => ({ handling: 'removed', specimen })) })
    const of = (id: string, pot: string, code: string) => [
      reportOf(`of-${pot}`, { specimen: specimens(pot), result: [to(`Observation/${id}`)] }),
      diagnosis(id, code, pot),
    ]
    const story = ask([...pots, ...of('x', 'A', tubularAdenoma), ...of('y', 'B', hyperplastic), ...later('corrected')])
    expect(story.only()).toMatchObject({ pathology: 'unreadable', adenomaFound: undefined })
  })
})

describe('a version of a report', () => {
  it('that is later stands in the place of the one before it, whatever its status', () => {
    expect(ask([...onePolyp, ...first(accession('1')), ...later('final', accession('1'))]).only()).toMatchObject(
      oneHyperplastic,
    )
  })

  it('of which nothing says which is the later leaves open what stands', () => {
    const undated = { ...accession('1'), issued: undefined }
    const story = ask([...onePolyp, ...first(undated), ...later('final', undated)])
    expect(story.only()).toMatchObject({ pathology: 'unreadable', adenomaFound: undefined })
  })
})

describe('a report that is still open', () => {
  const open = (more: Resource = {}) =>
    reportOf('r2', { ...sharedEncounter, status: 'registered', issued: undefined, ...more })

  it('and later than the final one is waited for', () => {
    const late = { effectiveDateTime: '2026-03-20' }
    for (const source of [northmoor, silent]) {
      const story = [...examination({ id: 'a' }), ...first({}, hyperplastic), open(late)]
      const { pathology, adenomaFound, polypCount } = ask(story, '2026-03-25', source).only()
      expect([pathology, adenomaFound, polypCount]).toEqual(['pending', undefined, undefined])
    }
    const inPot = [...onePot, ...first({ specimen: specimens('A') }, hyperplastic), open(late)]
    expect(ask(inPot, '2026-03-25').only()).toMatchObject({ pathology: 'pending', adenomaFound: undefined })
  })

  it('without a date may be the later one', () => {
    const story = [...onePolyp, ...first({}, hyperplastic), open()]
    expect(ask(story, '2026-03-25').only()).toMatchObject({ pathology: 'pending', adenomaFound: undefined })
  })

  it('is closed by a later final report, and by its own version', () => {
    const before = [...onePolyp, ...first({}, hyperplastic), open({ effectiveDateTime: '2026-03-10' })]
    expect(ask(before, '2026-03-25').only()).toMatchObject(oneHyperplastic)
    const own = [...onePolyp, ...first(accession('1'), hyperplastic), open(accession('1'))]
    expect(ask(own, '2026-03-25').only()).toMatchObject(oneHyperplastic)
  })
})
