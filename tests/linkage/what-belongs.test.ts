import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import {
  encounterClassOf,
  examination,
  fact,
  hyperplastic,
  pathology,
  type Resource,
  snomed,
  tubularAdenoma,
} from '../stories/examination.ts'

// The ladder is that of this service's design (direct reference, order, encounter, patient and date; what is ambiguous is counted, not
// guessed); elements and their meaning are those of FHIR R4 (4.0.1). That a stay may last for weeks, and that two endoscopies
// of one day each keep their own, is common practice, no source.
const ofPatient = (id: string) => ({ reference: `Patient/patient-${id}` })
const inEncounter = (id: string) => ({ reference: `Encounter/encounter-${id}` })
const procedure = (id: string, more: Resource): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  subject: ofPatient('a'),
  ...more,
})
const polyp = (more: Resource): Resource => ({
  resourceType: 'Observation',
  id: 'polyp',
  status: 'final',
  code: snomed('399505005'),
  subject: ofPatient('a'),
  component: [{ code: fact('polyp-handling'), valueCodeableConcept: fact('removed') }],
  ...more,
})
const midazolam = (more: Resource): Resource => ({
  resourceType: 'MedicationAdministration',
  id: 'dose',
  status: 'completed',
  medicationCodeableConcept: fact('midazolam'),
  subject: ofPatient('a'),
  dosage: { dose: { value: 3, code: 'mg', system: 'http://unitsofmeasure.org' } },
  ...more,
})
const report = (more: Resource): Resource => ({
  resourceType: 'DiagnosticReport',
  id: 'pathology',
  status: 'final',
  code: { coding: [{ system: 'http://loinc.org', code: '11526-1' }] },
  subject: ofPatient('a'),
  issued: '2026-03-13T10:00:00Z',
  conclusionCode: [snomed(tubularAdenoma)],
  ...more,
})
/** The encounter of the story as a stay of days. */
const asStay = (resources: Resource[], period: Resource): Resource[] =>
  resources.map((one) => (one.resourceType === 'Encounter' ? { ...one, ...encounterClassOf('IMP'), period } : one))
const only = (resources: Resource[], asOf?: string) => {
  const { records } = ask(resources, asOf)
  expect(records).toHaveLength(1)
  return records[0]
}

describe('what fits two examinations of one encounter', () => {
  const at = (start: string, end: string) => ({
    performedPeriod: { start: `2026-03-10T${start}Z`, end: `2026-03-10T${end}Z` },
  })
  const first = examination({ id: 'a', procedure: at('09:00:00', '09:20:00') })
  const again = procedure('again', {
    ...at('14:00:00', '14:30:00'),
    code: snomed('73761001'),
    encounter: inEncounter('a'),
  })
  const both = [...first, again]

  it('is listed, belongs to neither, and makes silence mean nothing in both', () => {
    // Usual wrong answer: no polyp, no drug and no pathology in either, as the feeds are complete.
    const told = [
      polyp({ encounter: inEncounter('a') }),
      midazolam({ context: inEncounter('a') }),
      report({ encounter: inEncounter('a') }),
    ]
    const story = ask([...both, ...told])
    expect(
      story.leftOut
        .filter(({ reason }) => reason === 'link ambiguous')
        .map(({ reference }) => reference)
        .sort(),
    ).toEqual(['DiagnosticReport/pathology', 'MedicationAdministration/dose', 'Observation/polyp'])
    for (const record of story.records)
      expect(record).toMatchObject({
        polypCount: undefined,
        adenomaFound: undefined,
        sedated: undefined,
        midazolamMilligrams: undefined,
      })
  })

  it('is of the one during which it happened, where a time says so', () => {
    const story = ask([...both, polyp({ encounter: inEncounter('a'), effectiveDateTime: '2026-03-10T14:10:00Z' })])
    const counts = new Map(story.records.map(({ procedure: key, polypCount }) => [key, polypCount]))
    expect(counts).toEqual(
      new Map([
        ['Procedure/a', 0],
        ['Procedure/again', 1],
      ]),
    )
  })

  it('is of the other one, where the scope was never inserted in the first', () => {
    // Usual wrong answer: ambiguous, though one of the two never took place.
    const attempt = first
      .map((one) =>
        one.id === 'a' && one.resourceType === 'Procedure'
          ? { ...one, status: 'stopped', statusReason: fact('not-inserted') }
          : one,
      )
      .filter(({ resourceType, code }) => resourceType !== 'Observation' || code === undefined)
    const story = ask([
      ...attempt,
      again,
      polyp({ encounter: inEncounter('a') }),
      midazolam({ context: inEncounter('a'), effectiveDateTime: '2026-03-10T14:05:00Z' }),
    ])
    expect(story.leftOut).toContainEqual({ reference: 'Procedure/a', reason: 'never inserted' })
    expect(story.records).toMatchObject([{ procedure: 'Procedure/again', polypCount: 1, midazolamMilligrams: 3 }])
  })
})

describe('a reference that leads nowhere', () => {
  it.each([
    ['to something outside', 'urn:uuid:4f0c9c6e-7a55-4b5e-8f0a-3a3c1f2b9d11'],
    ['to a copy entered in error', 'Procedure/copy'],
  ])('%s does not end the search: the encounter decides', (_, reference) => {
    const copy = procedure('copy', { status: 'entered-in-error', code: snomed('73761001') })
    const part = { encounter: inEncounter('a'), partOf: [{ reference }] }
    expect(only([...examination({ id: 'a' }), copy, polyp(part)])?.polypCount).toBe(1)
  })

  it('a dose that is part of another administration is of the encounter', () => {
    // R4: MedicationAdministration.partOf may be a MedicationAdministration.
    const dose = midazolam({
      context: inEncounter('a'),
      effectiveDateTime: '2026-03-10T09:05:00Z',
      partOf: [{ reference: 'MedicationAdministration/whole' }],
    })
    expect(only([...examination({ id: 'a' }), dose])).toMatchObject({ sedated: true, midazolamMilligrams: 3 })
  })

  it('what is part of another procedure is not the colonoscopy’s, whatever encounter they share', () => {
    const gastroscopy = procedure('upper', { code: snomed('76009000'), encounter: inEncounter('a') })
    const other = polyp({ encounter: inEncounter('a'), partOf: [{ reference: 'Procedure/upper' }] })
    expect(only([...examination({ id: 'a' }), gastroscopy, other])?.polypCount).toBe(0)
  })
})

describe('a long stay', () => {
  const stay = (more: Resource[]) => [
    ...asStay(examination({ id: 'a' }), { start: '2026-03-01', end: '2026-03-20' }),
    ...more,
  ]

  it('does not make the polyp of another day the colonoscopy’s', () => {
    // Usual wrong answer: same encounter, so the same examination.
    expect(only(stay([polyp({ encounter: inEncounter('a'), effectiveDateTime: '2026-03-03' })]))?.polypCount).toBe(0)
    expect(only(stay([polyp({ encounter: inEncounter('a'), effectiveDateTime: '2026-03-10' })]))?.polypCount).toBe(1)
  })

  it('nor the polypectomy of another day', () => {
    const part = (day: string) =>
      procedure('part', { code: snomed('274025005'), encounter: inEncounter('a'), performedDateTime: day })
    expect(only(stay([part('2026-03-03')]))?.polypRemoved).toBe(false)
    expect(only(stay([part('2026-03-10')]))?.polypRemoved).toBe(true)
  })

  it('nor the histology of a later operation, which that operation names as its own', () => {
    const operation = procedure('operation', {
      code: snomed('26390003'),
      encounter: inEncounter('a'),
      performedDateTime: '2026-03-14',
      report: [{ reference: 'DiagnosticReport/pathology' }],
    })
    const found = only(stay([operation, report({ encounter: inEncounter('a'), effectiveDateTime: '2026-03-14' })]))
    expect(found?.adenomaFound).not.toBe(true)
  })

  it('nor a polyp that was known for years, told as a condition of the stay', () => {
    const old = {
      resourceType: 'Condition',
      id: 'old',
      code: snomed('68496003'),
      subject: ofPatient('a'),
      encounter: inEncounter('a'),
      onsetDateTime: '2019-05-01',
    }
    expect(only(stay([old]))?.polypCount).toBe(0)
  })
})

describe('the day', () => {
  it('runs on past midnight: doses on both sides are of one examination', () => {
    // Usual wrong answer: 2 mg, as the second dose is of the next day.
    const night = { performedPeriod: { start: '2026-03-10T23:45:00Z', end: '2026-03-11T00:30:00Z' } }
    const dose = (id: string, when: string) =>
      midazolam({ id, context: inEncounter('a'), effectiveDateTime: when, dosage: { dose: { value: 2, code: 'mg' } } })
    const story = [
      ...examination({ id: 'a', procedure: night }),
      dose('one', '2026-03-10T23:46:00Z'),
      dose('two', '2026-03-11T00:05:00Z'),
    ]
    expect(only(story)?.midazolamMilligrams).toBe(4)
  })
})

describe('an encounter of its own', () => {
  const own = {
    resourceType: 'Encounter',
    id: 'other',
    status: 'finished',
    ...encounterClassOf('AMB'),
    subject: ofPatient('a'),
  }

  it('says that a polyp of the same day is of something else', () => {
    // Usual wrong answer: same patient, same day, no rival, so the colonoscopy's.
    const elsewhere = polyp({ encounter: { reference: 'Encounter/other' }, effectiveDateTime: '2026-03-10' })
    expect(only([...examination({ id: 'a' }), own, elsewhere])?.polypCount).toBe(0)
  })

  it('that is part of the examination’s, or the other way round, does not', () => {
    const inner = { ...own, partOf: inEncounter('a') }
    const within = polyp({ encounter: { reference: 'Encounter/other' }, effectiveDateTime: '2026-03-10' })
    expect(only([...examination({ id: 'a' }), inner, within])?.polypCount).toBe(1)
  })

  it('of a later operation keeps its histology from the colonoscopy', () => {
    const later = report({
      encounter: { reference: 'Encounter/other' },
      effectiveDateTime: '2026-04-10',
      issued: '2026-04-12T10:00:00Z',
    })
    expect(only([...examination({ id: 'a' }), own, later])?.adenomaFound).not.toBe(true)
  })
})

describe('reports that the colonoscopy names', () => {
  const naming = (...reports: string[]) => ({ report: reports.map((id) => ({ reference: `DiagnosticReport/${id}` })) })
  const found = examination({ id: 'a' })
  const own = String(found.find(({ resourceType }) => resourceType === 'DiagnosticReport')?.id)

  it('may be of pathology, without any other tie', () => {
    // R4, Procedure.report: this could potentially be a histology result. Usual wrong answer: nothing was sent.
    const story = [...examination({ id: 'a', procedure: naming(own, 'pathology') }), report({})]
    expect(only(story)).toMatchObject({ pathology: 'final', adenomaFound: true })
  })

  it('of pathology settle nothing that its own, still preliminary, would say', () => {
    // Usual wrong answer: one of its reports is final, so no polyp is none.
    const story = [
      ...examination({ id: 'a', report: 'preliminary', procedure: naming(own, 'pathology') }),
      report({ conclusionCode: [snomed(hyperplastic)] }),
    ]
    expect(only(story, '2026-03-15')?.report).toBe('preliminary')
  })

  it('and that did not come leave open what was found', () => {
    const story = examination({ id: 'a', procedure: naming('gone') }).filter(
      ({ resourceType }) => resourceType !== 'DiagnosticReport',
    )
    expect(only(story)).toMatchObject({ report: undefined, polypCount: undefined })
  })

  it.each(['unknown', undefined])('with status %s are not signed', (status) => {
    const story = found.map((one) => (one.resourceType === 'DiagnosticReport' ? { ...one, status } : one))
    expect(only(story)?.report).toBe('preliminary')
  })
})

describe('a gastroscopy of the same encounter', () => {
  const gastroscopy = procedure('upper', {
    code: snomed('76009000'),
    encounter: inEncounter('a'),
    performedDateTime: '2026-03-10',
  })
  const jar = {
    resourceType: 'Specimen',
    id: 'jar',
    subject: ofPatient('a'),
    collection: { bodySite: { coding: [{ system: 'urn:sites', code: 'STO' }] }, collectedDateTime: '2026-03-10' },
  }

  it('may have filled a jar of a site nobody knows: its histology is given to neither, and the colonoscopy stays open', () => {
    // Usual wrong answer: an adenoma of the colon.
    const story = ask([
      ...examination({ id: 'a' }),
      gastroscopy,
      jar,
      ...pathology('r', {
        issued: '2026-03-13T10:00:00Z',
        encounterOf: 'a',
        results: [{ specimen: 'jar', code: tubularAdenoma }],
      }).map((one) =>
        one.resourceType === 'DiagnosticReport' ? { ...one, specimen: [{ reference: 'Specimen/jar' }] } : one,
      ),
    ])
    expect(story.records[0]).toMatchObject({ adenomaFound: undefined, polypCount: undefined })
    expect(story.leftOut.map(({ reason }) => reason)).toContain('link ambiguous')
  })

  it('may have written an endoscopy report: it does not sign for the colonoscopy', () => {
    const written = {
      resourceType: 'DiagnosticReport',
      id: 'upper-report',
      status: 'final',
      code: { coding: [{ system: 'http://loinc.org', code: '18751-8' }] },
      subject: ofPatient('a'),
      encounter: inEncounter('a'),
    }
    const story = examination({ id: 'a', report: 'preliminary' })
    expect(only([...story, gastroscopy, written], '2026-03-15')?.report).toBe('preliminary')
  })

  it('that was entered in error takes no report away', () => {
    const copy = {
      ...gastroscopy,
      id: 'copy',
      status: 'entered-in-error',
      report: [{ reference: 'DiagnosticReport/pathology' }],
    }
    expect(only([...examination({ id: 'a' }), copy, report({ encounter: inEncounter('a') })])?.adenomaFound).toBe(true)
  })
})
