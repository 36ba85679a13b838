import type { pathology } from '../../record/pathology.ts'
import { histologyClasses } from '../../record/words.ts'
import { asPathology } from './observed.ts'
import type { CodesOn, Way, WaysOf } from './way.ts'

const report: CodesOn = { on: 'DiagnosticReport.code or category', valueSets: ['pathology-report'] }
const maps = (...conceptMaps: string[]): CodesOn => ({
  on: 'the value, or conclusionCode',
  conceptMaps,
  ours: histologyClasses,
})
const read = (...conceptMaps: string[]): readonly Way[] => [
  {
    elements: [
      'Observation.valueCodeableConcept',
      'Observation.component',
      'Observation.hasMember',
      'Observation.valueBoolean',
    ],
    rungs: asPathology,
    codes: [report, maps('histology', ...conceptMaps)],
    note: 'Results in DiagnosticReport.result, one for each specimen; a member of a panel speaks of the specimen it names. A boolean answers a code that names a class. A coded result that nobody knows may be any class: it leaves the counts open.',
  },
  {
    elements: ['DiagnosticReport.conclusionCode'],
    rungs: asPathology,
    codes: [report, maps('histology', ...conceptMaps)],
    note: 'Where no result names a class; beside results, for a lesion of which none of them tells.',
  },
  {
    elements: ['DiagnosticReport.conclusion', 'DiagnosticReport.presentedForm'],
    rungs: ['read from free text'],
    note: 'Only where the source has its text read (readsText) and no code names a class.',
  },
]
const nothingSent: Way = {
  elements: ['DiagnosticReport'],
  rungs: ['inferred from the findings'],
  note: 'Where nothing was sent: no tissue means no histology, and polyps that can yield none are none of the class.',
}
const classes = [...read(), nothingSent]

export const pathologyAccepted: WaysOf<typeof pathology> = {
  pathology: [
    {
      elements: ['DiagnosticReport.status'],
      rungs: asPathology,
      codes: [report],
      note: 'Linked by specimen, by order, by encounter; by patient and date only where a site or a class says large bowel.',
    },
    {
      elements: ['Specimen.collection'],
      rungs: asPathology,
      note: 'A specimen without a report yet is pending: named by a polyp, by its order, or collected at a site of the large bowel.',
    },
    {
      elements: ['DiagnosticReport'],
      rungs: ['inferred from the findings'],
      note: 'Not sent: the feed of pathology is complete, or no polyp can yield tissue.',
    },
  ],
  histologySource: read(),
  adenomaFound: classes,
  traditionalSerratedFound: classes,
  sessileSerratedFound: classes,
  cancerFound: classes,
  adenomaCount: classes,
  adenomaCountLower: classes,
  adenomaCountUpper: classes,
  traditionalSerratedCount: classes,
  sessileSerratedCount: classes,
  hyperplasticCount: classes,
  cancerCount: classes,
  otherHistologyCount: classes,
  largestAdenomaMillimetres: read(),
  villousAdenomaFound: [...read('villous'), nothingSent],
  highGradeDysplasiaFound: [...read('dysplasia'), nothingSent],
  colitisDysplasiaFound: read('dysplasia'),
}
