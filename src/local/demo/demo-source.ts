import type { ConceptMap } from 'fhir/r4'
import type { Source } from '../../config.ts'
import { systems, units } from './region.ts'
import { localHistologyCodes } from './resources/codes.ts'
import type { Nature } from './truth-row.ts'

const matches = {
  ellenby: { procedureLocation: ['Location/room-ellenby'] },
  tarnhollow: { encounterLocation: ['Location/room-tarnhollow'] },
  quernford: { serviceProvider: ['Organization/org-quernford'] },
} as const

const histologyMeanings: Readonly<Record<Nature, string>> = {
  'conventional-adenoma': '1156654007',
  'traditional-serrated-adenoma': '443734007',
  'sessile-serrated-lesion': '443157008',
  hyperplastic: '62047007',
  cancer: '1187332001',
  other: '30389008',
}

/** The local codes of one unit: two for procedures, six for histology. */
const conceptMaps: readonly ConceptMap[] = [
  mapToSnomed('harrowmere-procedures', systems.localProcedures, [
    ['COL-1', '73761001'],
    ['COL-2', '446521004'],
  ]),
  mapToSnomed(
    'harrowmere-histology',
    systems.localHistology,
    Object.entries(histologyMeanings).map(([nature, code]) => [localHistologyCodes[nature as Nature], code]),
  ),
]

/** How the service is told of the demo's server; `baseUrl` is where it listens. */
export function demoSource(baseUrl: string): Source {
  return {
    id: 'harrowmere',
    baseUrl,
    zone: 'Europe/London',
    units: units.map(({ id, name }) => ({ id, name, match: matches[id] })),
    practitionerSystem: systems.people,
    completeFeeds: ['polyps', 'pathology', 'history', 'events', 'photographs'],
    pathologyLagDays: 60,
    eventLagDays: 14,
    eventsKnownBy: 'own-hospital',
    conceptMaps,
  }
}

function mapToSnomed(id: string, source: string, pairs: readonly (readonly [string, string])[]): ConceptMap {
  const element = pairs.map(([code, target]) => ({
    code,
    target: [{ code: target, equivalence: 'equivalent' as const }],
  }))
  return { resourceType: 'ConceptMap', id, status: 'active', group: [{ source, target: systems.snomed, element }] }
}
