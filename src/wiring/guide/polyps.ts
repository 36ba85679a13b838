import { type findings, polypFields } from '../../record/findings.ts'
import { bowelSites, histologyClasses } from '../../record/words.ts'
import { asObserved, asPart, asPathology } from './observed.ts'
import type { CodesOn, GuideFieldOf, Way } from './way.ts'

/** Codes of a polyp. */
export const polyp: CodesOn = { on: 'Observation.code', valueSets: ['polyp-finding'] }
/** A polypectomy that is part of the examination. */
export const polypectomy = (note: string): Way => ({
  elements: ['Procedure.code'],
  rungs: asPart,
  codes: [{ on: 'Procedure.code', valueSets: ['polypectomy'] }],
  note,
})
/** A coded component of the polyp's observation. */
const component = (code: string, words: readonly string[], conceptMaps?: readonly string[]): Way => ({
  elements: ['Observation.component.valueCodeableConcept'],
  rungs: asObserved,
  codes: [
    polyp,
    { on: 'Observation.component.code', ours: [code] },
    { on: 'Observation.component.valueCodeableConcept', ours: words, ...(conceptMaps && { conceptMaps }) },
  ],
})
/** A yes/no component of the polyp's observation. */
const answered = (code: string): Way => ({
  elements: ['Observation.component.valueBoolean', 'Observation.component.valueCodeableConcept'],
  rungs: asObserved,
  codes: [
    polyp,
    { on: 'Observation.component.code', ours: [code] },
    { on: 'Observation.component.valueCodeableConcept', ours: ['yes', 'no'] },
  ],
})
const size: readonly Way[] = [
  {
    elements: [
      'Observation.component.valueQuantity',
      'Observation.component.valueRange',
      'Observation.component.valueInteger',
      'Observation.component.valueString',
    ],
    rungs: asObserved,
    codes: [polyp, { on: 'Observation.component.code', valueSets: ['polyp-size'] }],
    note: 'In mm or cm (UCUM). A comparator or a range is a bound, not a size.',
  },
  {
    elements: ['Observation.valueQuantity', 'Observation.valueRange', 'Observation.valueString'],
    rungs: asObserved,
    codes: [polyp],
    note: 'The polyp’s own value.',
  },
  {
    elements: [
      'Observation.valueQuantity',
      'Observation.valueRange',
      'Observation.valueInteger',
      'Observation.valueString',
    ],
    rungs: asObserved,
    codes: [{ on: 'Observation.code', valueSets: ['polyp-size'] }],
    note: 'An observation of its own, with the polyp in focus or derivedFrom; the polyp may name it in hasMember.',
  },
]
const ofPot = (what: string): readonly Way[] => [
  {
    elements: [
      'Observation.valueCodeableConcept',
      'Observation.component',
      'Observation.hasMember',
      'Observation.valueBoolean',
      'DiagnosticReport.conclusionCode',
    ],
    rungs: asPathology,
    codes: [
      { on: 'DiagnosticReport.code or category', valueSets: ['pathology-report'] },
      {
        on: 'the value, or conclusionCode',
        conceptMaps: ['histology', what].filter((one, index, all) => all.indexOf(one) === index),
      },
    ],
    note: 'Result of a final report for the specimen that the polyp names in Observation.specimen.',
  },
  {
    elements: ['DiagnosticReport.conclusion', 'DiagnosticReport.presentedForm'],
    rungs: ['read from free text'],
    note: 'Only where the source has its text read (readsText) and no code names a class.',
  },
]

type PolypField = Extract<GuideFieldOf<typeof findings>, `polyps.${string}`>

/** Ways of what is said of each polyp. */
export const polypWays: Readonly<Record<PolypField, readonly Way[]>> = {
  'polyps.site': [
    {
      elements: ['Observation.bodySite', 'Specimen.collection.bodySite', 'Condition.bodySite'],
      rungs: asObserved,
      codes: [polyp, { on: 'bodySite', conceptMaps: ['bowel-site'], ours: bowelSites }],
    },
  ],
  'polyps.sizeMillimetres': size,
  'polyps.sizeAtLeastMillimetres': size,
  'polyps.sizeAtMostMillimetres': size,
  'polyps.shape': [component('polyp-shape', polypFields.shape.values)],
  'polyps.handling': [
    component('polyp-handling', polypFields.handling.values),
    polypectomy('One that names the polyp in reasonReference, or that the polyp names in partOf: removed.'),
  ],
  'polyps.tool': [
    component('polyp-tool', polypFields.tool.values, ['polypectomy-tool']),
    {
      elements: ['Procedure.code', 'Procedure.usedCode'],
      rungs: asPart,
      codes: [{ on: 'Procedure.code or usedCode', conceptMaps: ['polypectomy-tool'], ours: polypFields.tool.values }],
      note: 'Of the polypectomy that took it.',
    },
  ],
  'polyps.resection': [component('polyp-resection', polypFields.resection.values)],
  'polyps.retrieval': [
    component('polyp-retrieval', polypFields.retrieval.values),
    {
      elements: ['Observation.specimen'],
      rungs: asObserved,
      codes: [polyp],
      note: 'A specimen of its own: retrieved.',
    },
  ],
  'polyps.tattooed': [
    answered('polyp-tattooed'),
    {
      elements: ['Procedure.code'],
      rungs: asPart,
      codes: [{ on: 'Procedure.code', valueSets: ['tattoo'] }],
      note: 'One that names the polyp in reasonReference.',
    },
  ],
  'polyps.predictedHistology': [component('predicted-histology', histologyClasses, ['histology'])],
  'polyps.sentForSurgery': [answered('polyp-sent-for-surgery')],
  'polyps.removalAttempted': [
    answered('polyp-removal-attempted'),
    {
      elements: ['Observation.component'],
      rungs: ['inferred from the findings'],
      note: 'True where it was removed, or a polypectomy names it.',
    },
  ],
  'polyps.inaccessible': [answered('polyp-inaccessible')],
  'polyps.suspectedCancer': [
    answered('polyp-suspected-cancer'),
    {
      elements: ['Observation.component'],
      rungs: ['inferred from the findings'],
      codes: [{ on: 'Observation.component.code', ours: ['predicted-histology'] }],
      note: 'True where cancer is predicted.',
    },
  ],
  'polyps.clearance': [component('polyp-clearance', polypFields.clearance.values)],
  'polyps.histology': ofPot('histology'),
  'polyps.dysplasia': ofPot('dysplasia'),
  'polyps.villous': ofPot('villous'),
}
