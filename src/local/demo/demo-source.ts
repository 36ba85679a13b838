import type { ConceptMap } from 'fhir/r4'
import type { Source } from '../../config.ts'
import { systems, units } from './region.ts'
import { type HistologyWord, localHistologyCodes } from './resources/codes.ts'
import { localTerms } from './resources/local-terms.ts'
import { localDrugs } from './resources/medication.ts'

const matches = {
  ellenby: { procedureLocation: ['Location/room-ellenby'] },
  tarnhollow: { encounterLocation: ['Location/room-tarnhollow'] },
  quernford: { serviceProvider: ['Organization/org-quernford'] },
} as const

const histologyMeanings: Readonly<Record<HistologyWord, string>> = {
  'conventional-adenoma': '1156654007',
  'villous-adenoma': '61722000',
  'traditional-serrated-adenoma': '443734007',
  'sessile-serrated-lesion': '443157008',
  'dysplastic-serrated-lesion': '783210009',
  hyperplastic: '62047007',
  cancer: '1187332001',
  other: '30389008',
  'dysplastic-mucosa': '43185009',
}

/** The local codes of one unit: procedures and histology in SNOMED CT, its other terms and its drugs in the codes of ours. */
const conceptMaps: readonly ConceptMap[] = [
  mapTo('snomed', 'harrowmere-procedures', systems.localProcedures, [
    ['COL-1', '73761001'],
    ['COL-2', '446521004'],
  ]),
  mapTo(
    'snomed',
    'harrowmere-histology',
    systems.localHistology,
    Object.entries(histologyMeanings).map(([word, code]) => [localHistologyCodes[word as HistologyWord], code]),
  ),
  mapTo(
    'facts',
    'harrowmere-terms',
    systems.localTerms,
    Object.entries(localTerms).map(([ours, local]) => [local, ours]),
  ),
  mapTo(
    'facts',
    'harrowmere-formulary',
    systems.localFormulary,
    Object.entries(localDrugs).map(([drug, local]) => [local, drug]),
  ),
]

/** Comfort from 0 to 4, as the region agreed to read it on the scale from 1 to 5. */
const comfortMap = { '0': 1, '1': 2, '2': 3, '3': 4, '4': 5 } as const

/** How the service is told of the demo's server; `baseUrl` is where it listens. */
export function demoSource(baseUrl: string): Source {
  return {
    id: 'harrowmere',
    baseUrl,
    zone: 'Europe/London',
    units: units.map(({ id, name }) => ({ id, name, match: matches[id] })),
    practitionerSystem: systems.people,
    completeFeeds: ['polyps', 'pathology', 'history', 'medication', 'photographs', 'events', 'visits', 'deaths'],
    pathologyLagDays: 60,
    eventLagDays: 14,
    eventsKnownBy: 'own-hospital',
    comfortMap,
    conceptMaps,
  }
}

function mapTo(
  target: 'snomed' | 'facts',
  id: string,
  source: string,
  pairs: readonly (readonly [string, string])[],
): ConceptMap {
  const element = pairs.map(([code, meaning]) => ({
    code,
    target: [{ code: meaning, equivalence: 'equivalent' as const }],
  }))
  return { resourceType: 'ConceptMap', id, status: 'active', group: [{ source, target: systems[target], element }] }
}
