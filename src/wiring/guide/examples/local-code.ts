import type { ConceptMap } from 'fhir/r4'
import { factSystem } from '../../../fhir/canonical.ts'
import type { Example } from './example.ts'
import { coded, observation, quantity } from './resources.ts'

const localSystem = 'https://larkwater.example/codes'

/** A site's own code for withdrawal time, mapped to ours. */
export const localMap: ConceptMap = {
  resourceType: 'ConceptMap',
  status: 'active',
  group: [
    {
      source: localSystem,
      target: factSystem,
      element: [{ code: 'WDT', target: [{ code: 'withdrawal-time', equivalence: 'equivalent' }] }],
    },
  ],
}

export const localCode: Example = {
  id: 'local-code',
  title: 'A local code, understood through a ConceptMap of the source',
  resources: [observation('withdrawal', coded(localSystem, 'WDT'), { valueQuantity: quantity(9, 'min') })],
  settings: { conceptMaps: [localMap] },
  gives: { withdrawalMinutes: 9 },
}
