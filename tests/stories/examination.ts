import { factSystem } from '../../src/fhir/canonical.ts'

export type Resource = Record<string, unknown>
const sct = 'http://snomed.info/sct'

export const fact = (code: string): Resource => ({ coding: [{ system: factSystem, code }] })
export const snomed = (code: string): Resource => ({ coding: [{ system: sct, code }] })

/** What an observation says: its code, and the value and whatever else it holds. */
export type Said = Resource & { code: Resource }
export const word = (code: string, value: string, more: Resource = {}): Said => ({
  code: fact(code),
  valueCodeableConcept: fact(value),
  ...more,
})
export const yesNo = (code: string, valueBoolean: boolean, more: Resource = {}): Said => ({
  code: fact(code),
  valueBoolean,
  ...more,
})
export const whole = (code: string, valueInteger: number, more: Resource = {}): Said => ({
  code: fact(code),
  valueInteger,
  ...more,
})
export const quantity = (value: number, code: string): Resource => ({
  value,
  unit: code,
  system: 'http://unitsofmeasure.org',
  code,
})
export const amount = (code: string, value: number, unit: string, more: Resource = {}): Said => ({
  code: fact(code),
  valueQuantity: quantity(value, unit),
  ...more,
})

export interface PolypFacts {
  site?: string
  millimetres?: number
  /** Value of the size component where it is not a plain number of millimetres. */
  size?: Resource
  handling?: 'removed' | 'biopsied' | 'left' | 'not-found-again'
  retrieval?: 'retrieved' | 'not-retrieved' | 'discarded-under-protocol'
  /** Sent in a pot of its own. */
  specimen?: string
  /** Whatever else is said of it: shape, tool, prediction, known before. */
  said?: Said[]
}

export const encounterClassOf = (code: string): Resource => ({
  system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode',
  code,
})

/** One examination as a story tells it. What is not told is as `stories` says of every patient: see the defaults. */
export interface ExaminationFacts {
  id: string
  date?: string
  patient?: string
  birthDate?: string
  gender?: string
  operator?: string
  reasons?: string[]
  status?: string
  stopReason?: string
  report?: 'final' | 'preliminary'
  extent?: string
  photographs?: string[]
  boston?: { right?: number; transverse?: number; left?: number }
  withdrawalMinutes?: number
  /** Observations beside those above. */
  said?: Said[]
  /** Elements of the Procedure, Encounter and Patient that differ from what is made of the facts above. */
  procedure?: Resource
  encounter?: Resource
  person?: Resource
  encounterClass?: string
  polyps?: PolypFacts[]
  /** Pots that belong to no polyp, as random biopsies do. */
  biopsyPots?: string[]
  /** Conditions known beforehand: code of the large-bowel vocabulary and date of recording. */
  history?: { code: Resource; recorded: string }[]
}

/** Default facts: outpatient, aged 60, female, caecum reached with both landmarks photographed, Boston 3-3-3, final report. */
export function examination(facts: ExaminationFacts): Resource[] {
  const {
    id,
    date = '2026-03-10',
    patient = `patient-${id}`,
    birthDate = `${Number(date.slice(0, 4)) - 60}-01-01`,
    gender = 'female',
    operator = 'operator-1',
    reasons = ['screening'],
    status = 'completed',
    report = 'final',
    extent = 'caecum',
    photographs = ['appendix-orifice', 'ileocaecal-valve'],
    boston = { right: 3, transverse: 3, left: 3 },
    encounterClass = 'AMB',
    polyps = [],
    biopsyPots = [],
    history = [],
  } = facts
  const subject = { reference: `Patient/${patient}` }
  const encounter = { reference: `Encounter/encounter-${id}` }
  const partOf = [{ reference: `Procedure/${id}` }]
  let serial = 0
  const observation = (code: Resource, rest: Resource): Resource => ({
    resourceType: 'Observation',
    id: `${id}-observation-${String(++serial).padStart(2, '0')}`,
    status: 'final',
    code,
    subject,
    encounter,
    partOf,
    ...rest,
  })
  const segments = { right: '51342009', transverse: '485005', left: '55572008' } as const
  const specimen = (key: string): Resource => ({
    resourceType: 'Specimen',
    id: key,
    subject,
    collection: { collectedDateTime: date },
  })
  return [
    { resourceType: 'Patient', id: patient, birthDate, gender, ...facts.person },
    {
      resourceType: 'Encounter',
      id: `encounter-${id}`,
      status: 'finished',
      class: encounterClassOf(encounterClass),
      subject,
      ...facts.encounter,
    },
    {
      resourceType: 'Procedure',
      id,
      status,
      code: snomed('73761001'),
      subject,
      encounter,
      performedPeriod: { start: `${date}T09:00:00Z`, end: `${date}T09:30:00Z` },
      performer: [{ function: fact('operator'), actor: { reference: `Practitioner/${operator}` } }],
      reasonCode: reasons.map(fact),
      report: [{ reference: `DiagnosticReport/${id}-report` }],
      ...(facts.stopReason !== undefined && { statusReason: fact(facts.stopReason) }),
      ...facts.procedure,
    },
    {
      resourceType: 'DiagnosticReport',
      id: `${id}-report`,
      status: report,
      code: { coding: [{ system: 'http://loinc.org', code: '18746-8' }] },
      subject,
      encounter,
    },
    ...(extent === 'none' ? [] : [observation(fact('extent-reached'), { valueCodeableConcept: fact(extent) })]),
    ...photographs.map((landmark) =>
      observation(fact('landmark-photograph'), { valueCodeableConcept: fact(landmark) }),
    ),
    ...(['right', 'transverse', 'left'] as const)
      .filter((segment) => boston[segment] !== undefined)
      .map((segment) =>
        observation(snomed('722819004'), { bodySite: snomed(segments[segment]), valueInteger: boston[segment] }),
      ),
    ...(facts.withdrawalMinutes === undefined
      ? []
      : [
          observation(fact('withdrawal-time'), {
            valueQuantity: { value: facts.withdrawalMinutes, system: 'http://unitsofmeasure.org', code: 'min' },
          }),
        ]),
    ...(facts.said ?? []).map(({ code, ...rest }) => observation(code, rest)),
    ...polyps.map((polyp) =>
      observation(snomed('399505005'), {
        ...(polyp.site !== undefined && { bodySite: fact(polyp.site) }),
        ...(polyp.specimen !== undefined && { specimen: { reference: `Specimen/${polyp.specimen}` } }),
        component: [
          ...(polyp.millimetres === undefined
            ? []
            : [{ code: fact('polyp-size'), valueQuantity: { value: polyp.millimetres, code: 'mm' } }]),
          ...(polyp.size === undefined ? [] : [{ code: fact('polyp-size'), ...polyp.size }]),
          ...(polyp.handling === undefined
            ? []
            : [{ code: fact('polyp-handling'), valueCodeableConcept: fact(polyp.handling) }]),
          ...(polyp.retrieval === undefined
            ? []
            : [{ code: fact('polyp-retrieval'), valueCodeableConcept: fact(polyp.retrieval) }]),
          ...(polyp.said ?? []),
        ],
      }),
    ),
    ...polyps.flatMap((polyp) => (polyp.specimen === undefined ? [] : [specimen(polyp.specimen)])),
    ...biopsyPots.map(specimen),
    ...(biopsyPots.length === 0
      ? []
      : [
          {
            resourceType: 'Procedure',
            id: `${id}-biopsies`,
            status: 'completed',
            code: snomed('76164006'),
            subject,
            encounter,
            partOf,
          },
        ]),
    ...history.map(({ code, recorded }, index) => ({
      resourceType: 'Condition',
      id: `${id}-history-${index}`,
      code,
      subject,
      recordedDate: recorded,
    })),
  ]
}

/** A pathology report: one result per pot, with a SNOMED CT morphology; without pots, one result of the examination itself. */
export function pathology(
  id: string,
  facts: {
    issued: string
    status?: string
    results: { specimen?: string; code: string; more?: Resource }[]
    patient?: string
    encounterOf?: string
    /** Elements of the report beside these. */
    more?: Resource
  },
): Resource[] {
  const { issued, status = 'final', results, patient, encounterOf } = facts
  const pots = results.flatMap(({ specimen }) =>
    specimen === undefined ? [] : [{ reference: `Specimen/${specimen}` }],
  )
  return [
    {
      resourceType: 'DiagnosticReport',
      id,
      status,
      category: [{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v2-0074', code: 'SP' }] }],
      code: { coding: [{ system: 'http://loinc.org', code: '11526-1' }] },
      issued,
      ...(patient !== undefined && { subject: { reference: `Patient/${patient}` } }),
      ...(encounterOf !== undefined && { encounter: { reference: `Encounter/encounter-${encounterOf}` } }),
      ...(pots.length > 0 && { specimen: pots }),
      result: results.map((_, index) => ({ reference: `Observation/${id}-result-${index}` })),
      ...facts.more,
    },
    ...results.map(({ specimen, code, more }, index) => ({
      resourceType: 'Observation',
      id: `${id}-result-${index}`,
      status: 'final',
      code: { coding: [{ system: 'http://loinc.org', code: '34574-4' }] },
      valueCodeableConcept: snomed(code),
      ...(specimen !== undefined && { specimen: { reference: `Specimen/${specimen}` } }),
      ...more,
    })),
  ]
}

export const tubularAdenoma = '1156654007'
export const hyperplastic = '62047007'
export const dysplasia = '25723000'
export const ulcerativeColitis = '64766004'
