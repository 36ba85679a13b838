import type { DiagnosticReport, FhirResource, Observation, Specimen } from 'fhir/r4'
import type { Example } from '../../src/wiring/guide/examples/example.ts'
import {
  answer,
  at,
  coded,
  condition,
  given,
  observation,
  ours,
  part,
  quantity,
  snomed,
  word,
} from '../../src/wiring/guide/examples/resources.ts'

type Part = Omit<Example, 'id' | 'title' | 'gives'>

const subject = at('Patient/example-patient')
const encounter = at('Encounter/example-encounter')
const before = '2015-06-02'
const value = (id: string, code: string, said: string) =>
  observation(id, ours(code), { valueCodeableConcept: ours(said) })

const devices = (...types: string[]): FhirResource[] =>
  types.map((type) => ({ resourceType: 'Device', id: type, type: ours(type) }))
const deviceKinds = ['dye', 'computer-aided-detection', 'cuff', 'adult-colonoscope']

const people: readonly Part[] = [
  {
    changes: {
      procedure: {
        performer: [{ actor: at('Practitioner/example-practitioner') }],
      },
    },
  },
  {
    changes: {
      procedure: { performer: [] },
      encounter: {
        participant: [
          {
            type: [coded('http://terminology.hl7.org/CodeSystem/v3-ParticipationType', 'PPRF')],
            individual: at('Practitioner/example-practitioner'),
          },
        ],
      },
    },
  },
  { resources: [observation('led', ours('anaesthetist-led'), { valueBoolean: false })] },
]

const target = { id: 'told', subject, code: ours('known-lesion') }
const referredTo: readonly FhirResource[] = [
  { resourceType: 'Condition', ...target },
  { resourceType: 'Observation', status: 'final', ...target },
  { resourceType: 'Procedure', status: 'completed', ...target },
  { resourceType: 'DiagnosticReport', status: 'final', ...target },
]
const inWords = { text: 'Referred for removal of a known 30 mm polyp' }
const order = (rest: object): FhirResource => ({
  resourceType: 'ServiceRequest',
  id: 'order',
  status: 'active',
  intent: 'order',
  subject,
  code: snomed('73761001'),
  ...rest,
})
const reasons: readonly Part[] = [
  ...[ours('known-lesion'), inWords].map((reason) => ({
    changes: { procedure: { basedOn: [at('ServiceRequest/order')] } },
    resources: [order({ reasonCode: [reason] })],
    settings: { readsText: true },
  })),
  { changes: { procedure: { reasonCode: [inWords] } }, settings: { readsText: true } },
  ...referredTo.flatMap((one) =>
    [one, { ...one, code: inWords } as FhirResource].map((resource) => ({
      changes: { procedure: { reasonReference: [at(`${one.resourceType}/told`)] } },
      resources: [resource],
      settings: { readsText: true },
    })),
  ),
  { changes: { procedure: { code: snomed('444783004') } } },
]

const screened = (rest: object): FhirResource => ({
  resourceType: 'Observation',
  id: 'test',
  status: 'final',
  subject,
  code: ours('positive-screening-test'),
  valueBoolean: true,
  ...rest,
})
const particulars: readonly Part[] = [
  ...['chronic-diarrhoea', 'after-incomplete-examination'].flatMap((code): Part[] => [
    { resources: [observation('asked', ours(code), { valueBoolean: true })] },
    { changes: { procedure: { reasonCode: [ours(code)] } } },
    {
      changes: { procedure: { basedOn: [at('ServiceRequest/order')] } },
      resources: [order({ reasonCode: [ours(code)] })],
    },
    ...referredTo.map(
      (one): Part => ({
        changes: { procedure: { reasonReference: [at(`${one.resourceType}/told`)] } },
        resources: [{ ...one, code: ours(code) } as FhirResource],
      }),
    ),
  ]),
  ...[
    { effectiveInstant: '2026-02-17T10:00:00Z' },
    { effectivePeriod: { start: '2026-02-17' } },
    { issued: '2026-02-17T10:00:00Z' },
  ].map(
    (rest): Part => ({
      changes: { procedure: { reasonReference: [at('Observation/test')] } },
      resources: [screened(rest)],
    }),
  ),
  { resources: [observation('date', ours('positive-test-date'), { valueDateTime: '2026-02-17' })] },
]
const earlier = (rest: object): FhirResource => ({
  resourceType: 'Procedure',
  id: 'earlier',
  status: 'completed',
  subject,
  code: snomed('73761001'),
  ...rest,
})
const examinationsBefore: readonly Part[] = [
  { resources: [earlier({ performedPeriod: { start: '2023-03-10T09:00:00Z', end: '2023-03-10T09:30:00Z' } })] },
  { resources: [observation('last', ours('last-colonoscopy'), { valueDateTime: '2023-03-10' })] },
  { resources: [observation('last', ours('last-colonoscopy'), { valueQuantity: quantity(36, 'mo') })] },
  { resources: [observation('last', ours('last-examination-inadequate'), { valueBoolean: true })] },
]

const kinds = [
  'inflammatory-bowel-disease',
  'hereditary-syndrome',
  'earlier-resection',
  'stricture',
  'severe-diverticulosis',
  'pelvic-surgery-or-radiotherapy',
  'colorectal-cancer',
  'antithrombotic-use',
  'serrated-polyposis',
  'family-history-of-colorectal-cancer',
  'earlier-adenoma',
]
const history: readonly Part[] = [
  ...kinds.flatMap((kind) => [
    { resources: [observation('asked', ours(kind), { valueBoolean: true })] },
    { resources: [condition('known', ours(kind), { recordedDate: before })] },
  ]),
  {
    resources: [
      { ...part('operation', ours('pelvic-surgery-or-radiotherapy')), performedDateTime: before, partOf: [] },
    ],
  },
  { resources: [value('asked', 'earlier-resection', 'right-hemicolectomy')] },
  { resources: [condition('known', ours('right-hemicolectomy'), { recordedDate: before })] },
  {
    resources: [condition('known', ours('earlier-resection'), { recordedDate: before, bodySite: [ours('ascending')] })],
  },
  {
    resources: [
      {
        ...part('operation', ours('earlier-resection')),
        performedDateTime: before,
        partOf: [],
        bodySite: [ours('ascending')],
      },
    ],
  },
  { resources: [observation('asked', ours('earlier-resection'), { valueBoolean: true, bodySite: ours('ascending') })] },
  {
    resources: [
      condition('colitis', snomed('64766004'), { recordedDate: before, severity: ours('severe') }),
      observation('activity', ours('inflammatory-activity'), {
        effectiveDateTime: '2026-02-01',
        valueCodeableConcept: ours('severe'),
      }),
    ],
  },
]

const picture: FhirResource = {
  resourceType: 'Media',
  id: 'picture',
  status: 'completed',
  partOf: [at('Procedure/example-colonoscopy')],
  subject,
  bodySite: ours('caecum'),
  content: { url: 'https://pictures.example/1' },
}

const course: readonly Part[] = [
  { changes: { procedure: { status: 'stopped' } }, resources: [picture] },
  { changes: { procedure: { status: 'stopped' } }, resources: [value('extent', 'extent-reached', 'caecum')] },
  { changes: { procedure: { status: 'stopped' } } },
  { resources: [value('extent', 'extent-reached', 'ileum')] },
  { settings: { completeFeeds: ['photographs'] } },
  { changes: { procedure: { report: [] } } },
  { changes: { procedure: { code: snomed('48031000087101') } } },
  { changes: { procedure: { code: snomed('447021001') } } },
  { changes: { procedure: { code: snomed('446521004') } } },
  { changes: { procedure: { usedCode: [ours('dye'), ours('adult-colonoscope'), ours('paediatric-colonoscope')] } } },
  {
    changes: {
      procedure: { usedReference: ['adult-colonoscope', 'paediatric-colonoscope'].map((id) => at(`Device/${id}`)) },
    },
    resources: devices('adult-colonoscope', 'paediatric-colonoscope'),
  },
  {
    changes: {
      procedure: {
        focalDevice: ['adult-colonoscope', 'paediatric-colonoscope'].map((id) => ({ manipulated: at(`Device/${id}`) })),
      },
    },
    resources: devices('adult-colonoscope', 'paediatric-colonoscope'),
  },
  {
    changes: { procedure: { usedReference: deviceKinds.map((id) => at(`Device/${id}`)) } },
    resources: devices(...deviceKinds),
  },
  {
    changes: { procedure: { focalDevice: deviceKinds.map((id) => ({ manipulated: at(`Device/${id}`) })) } },
    resources: devices(...deviceKinds),
  },
  { resources: [observation('aid', ours('computer-aided-detection'), { valueBoolean: true })] },
]

const segments = ['right-segment', 'transverse-segment', 'left-segment']
const notApplicable = coded('http://terminology.hl7.org/CodeSystem/data-absent-reason', 'not-applicable')
const preparation: readonly Part[] = [
  {
    resources: segments.map((site) =>
      observation(site, ours('boston-segment'), { bodySite: ours(site), valueInteger: 2 }),
    ),
  },
  {
    resources: segments.map((site) =>
      observation(site, ours('boston-segment'), { bodySite: ours(site), dataAbsentReason: notApplicable }),
    ),
  },
  {
    resources: [
      observation('boston', ours('boston-total'), {
        component: segments.map((site) => ({ code: ours(site), dataAbsentReason: notApplicable })),
      }),
    ],
  },
  {
    changes: { procedure: { status: 'stopped', statusReason: ours('inadequate-preparation') } },
    resources: [observation('left', ours('boston-segment'), { bodySite: ours('left-segment'), valueInteger: 1 })],
  },
]

const drugs = ['midazolam', 'nitrous-oxide', 'antispasmodic', 'naloxone']
const comfort: readonly Part[] = [
  {
    resources: [
      observation('comfort', ours('comfort-one-to-five'), { valueInteger: 2 }),
      value('by', 'comfort-scorer', 'nurse'),
    ],
  },
  { resources: [observation('comfort', ours('comfort-one-to-five'), { valueInteger: 2, performer: [subject] })] },
  {
    resources: [
      ...drugs.map((drug): FhirResource => ({ resourceType: 'Medication', id: drug, code: ours(drug) })),
      ...drugs.map((drug): FhirResource => {
        const { medicationCodeableConcept: _, ...rest } = given(`given-${drug}`, ours(drug))
        return { ...rest, medicationReference: at(`Medication/${drug}`) }
      }),
    ],
  },
]

const done = (action: string) => ({ action: ours(action), manipulated: at('Device/cap') })
const accessory: readonly Part[] = [
  {
    resources: [
      value('outcome', 'attachment-outcome', 'removed'),
      observation('before-caecum', ours('attachment-removed-before-caecum'), { valueBoolean: true }),
      value('reason', 'attachment-removal-reason', 'looping'),
      observation('again', ours('attachment-reinserted'), { valueBoolean: false }),
      observation('treated', ours('mucosal-injury-treated'), { valueBoolean: true }),
    ],
  },
  { changes: { procedure: { focalDevice: [done('before-insertion'), done('detached')] } }, resources: devices('cap') },
  { resources: [value('outcome', 'attachment-outcome', 'kept')] },
  { resources: [observation('injury', ours('mucosal-injury'), { bodySite: ours('rectum') })] },
]

const polyp = (rest: Partial<Observation>) => observation('polyp', snomed('68496003'), rest)
const pot: Specimen = {
  resourceType: 'Specimen',
  id: 'pot',
  subject,
  collection: { collectedDateTime: '2026-03-10', bodySite: ours('ascending') },
}
const report = (rest: Partial<DiagnosticReport>): DiagnosticReport => ({
  resourceType: 'DiagnosticReport',
  id: 'histology',
  status: 'final',
  code: coded('http://loinc.org', '11526-1'),
  subject,
  issued: '2026-03-17T12:00:00Z',
  specimen: [at('Specimen/pot')],
  ...rest,
})
const result = (rest: Partial<Observation>): Observation => ({
  resourceType: 'Observation',
  id: 'result',
  status: 'final',
  code: coded('http://loinc.org', '34574-4'),
  ...rest,
})
const adenoma = snomed('1156654007')
const text = 'Tubular adenoma with low grade dysplasia.'
const detailed = [adenoma, ours('low-grade')]
const jarOfPolyp = [
  polyp({
    specimen: at('Specimen/pot'),
    component: [{ code: ours('polyp-size'), valueQuantity: quantity(6, 'mm') }, word('polyp-handling', 'removed')],
  }),
  pot,
]
const inResult = (...results: Observation[]): Part => ({
  resources: [...jarOfPolyp, report({ result: [at('Observation/result')] }), ...results],
})
const sized = [
  { valueQuantity: quantity(6, 'mm') },
  { valueRange: { low: quantity(6, 'mm'), high: quantity(6, 'mm') } },
]
const namedPolyp = (id: string, rest: Partial<Observation>) => observation(id, snomed('68496003'), rest)
const acts = [
  part('polypectomy-0', coded('http://www.ama-assn.org/go/cpt', '45390')),
  { ...part('polypectomy-1', ours('polypectomy')), usedCode: [ours('cold-snare')] },
  part('tattoo-2', ours('tattoo')),
]
const polyps: readonly Part[] = [
  { resources: [polyp({ component: [{ code: ours('polyp-size'), ...sized[1] }] })] },
  {
    resources: sized.flatMap((size, index) => [
      namedPolyp(`own-${index}`, size),
      namedPolyp(`apart-${index}`, {}),
      observation(`size-${index}`, ours('polyp-size'), { focus: [at(`Observation/example-apart-${index}`)], ...size }),
    ]),
  },
  {
    resources: [
      condition('polyp', snomed('68496003'), { encounter, recordedDate: '2026-03-10', bodySite: [ours('caecum')] }),
    ],
  },
  {
    resources: acts.flatMap((act, index) => [
      namedPolyp(`taken-${index}`, {}),
      { ...act, reasonReference: [at(`Observation/example-taken-${index}`)] },
    ]),
  },
]
const potAt = (site: string, pieces?: number): Specimen => ({
  ...pot,
  id: `pot-${site}`,
  collection: { ...pot.collection, bodySite: ours(site), ...(pieces && { quantity: quantity(pieces, '1') }) },
})
const everyPolypSent = { completeFeeds: ['polyps'] } as const
const biopsies: readonly Part[] = [
  { resources: [potAt('caecum'), potAt('sigmoid'), potAt('rectum', 2)], settings: everyPolypSent },
  {
    resources: [{ ...part('biopsy', ours('biopsy')), bodySite: [ours('caecum'), ours('sigmoid')] }],
    settings: everyPolypSent,
  },
  { resources: [polyp({ component: [word('predicted-histology', 'cancer')] })] },
]
const findings: readonly Part[] = [
  { resources: [condition('polyp', snomed('68496003'), { encounter, recordedDate: '2026-03-10' })] },
  { resources: [part('polypectomy', ours('polypectomy'))] },
  { settings: { completeFeeds: ['polyps'] }, changes: { procedure: { report: [] }, report: { status: 'cancelled' } } },
  { resources: [pot, report({ result: [at('Observation/result')] }), result({ valueCodeableConcept: adenoma })] },
  inResult(
    result({
      component: detailed.map((valueCodeableConcept) => ({ code: { text: 'Diagnosis' }, valueCodeableConcept })),
    }),
  ),
  inResult(
    result({ hasMember: [at('Observation/member-0'), at('Observation/member-1')] }),
    ...detailed.map((one, index) => ({ ...result({ valueCodeableConcept: one }), id: `member-${index}` })),
  ),
  inResult(
    result({
      code: adenoma,
      valueBoolean: true,
      component: [word('dysplasia-grade', 'low-grade')],
    }),
  ),
  inResult(result({ code: snomed('61722000'), valueBoolean: true })),
  { resources: [...jarOfPolyp, report({ conclusionCode: detailed })] },
  {
    resources: [...jarOfPolyp, report({ presentedForm: [{ contentType: 'text/plain', data: btoa(text) }] })],
    settings: { readsText: true },
  },
  { resources: [...jarOfPolyp, report({ conclusion: text })], settings: { readsText: true } },
  { resources: [polyp({ component: [answer('polyp-tattooed', true)] })] },
]

const event = (kind: string, rest: object): FhirResource => ({
  resourceType: 'AdverseEvent',
  id: 'event',
  actuality: 'actual',
  subject,
  date: '2026-03-12',
  event: ours(kind),
  suspectEntity: [{ instance: at('Procedure/example-colonoscopy') }],
  ...rest,
})
const fatal = coded('http://terminology.hl7.org/CodeSystem/adverse-event-outcome', 'fatal')
const severe = coded('http://terminology.hl7.org/CodeSystem/adverse-event-severity', 'severe')
const later = (kind: string) => condition('later', ours(kind), { onsetDateTime: '2026-03-12', severity: severe })
const eventKinds = ['perforation', 'bleeding', 'cardiopulmonary-event']
const advised = observation('advice', ours('advice'), {
  issued: '2026-03-20T10:00:00Z',
  valueCodeableConcept: ours('clinic-review'),
})
const afterwards: readonly Part[] = [
  ...eventKinds.flatMap((kind): Part[] => [
    { changes: { procedure: { complication: [ours(kind)] } } },
    { resources: [event(kind, { outcome: fatal })] },
    { resources: [event('other', { resultingCondition: [at('Condition/example-later')] }), later(kind)] },
    { resources: [later(kind)], changes: { procedure: { complicationDetail: [at('Condition/example-later')] } } },
  ]),
  { changes: { patient: { deceasedBoolean: true } } },
  { changes: { procedure: { followUp: [ours('clinic-review')] } } },
  {
    resources: [
      observation('interval', ours('advised-interval'), {
        effectiveDateTime: '2026-03-10',
        valueQuantity: quantity(36, 'mo'),
      }),
    ],
  },
  ...[
    { occurrenceDateTime: '2029-03-10' },
    { occurrencePeriod: { start: '2029-03-10' } },
    { occurrenceTiming: { repeat: { boundsPeriod: { start: '2029-03-10' } } } },
  ].map((when) => ({ resources: [order({ encounter, authoredOn: '2026-03-11', ...when })] })),
  { resources: [condition('cancer', snomed('363406005'), { recordedDate: '2027-02-03' })] },
  {
    resources: [
      pot,
      report({ issued: undefined, effectiveDateTime: '2026-03-17', conclusionCode: [ours('conventional-adenoma')] }),
      advised,
    ],
  },
  { resources: [advised], settings: { completeFeeds: ['polyps', 'pathology'] } },
  inResult(result({ valueCodeableConcept: ours('cancer') })),
]

/** One example for each way that the guide lists and no example of its own goes. */
export const furtherExamples: readonly Example[] = [
  ...people,
  ...reasons,
  ...particulars,
  ...history,
  ...examinationsBefore,
  ...course,
  ...preparation,
  ...comfort,
  ...accessory,
  ...polyps,
  ...biopsies,
  ...findings,
  ...afterwards,
].map((one, index) => ({ id: `further-${index}`, title: '', gives: {}, ...one }))
