import { loadDemo } from '../demo/demo-data.ts'
import { demoSource } from '../demo/demo-source.ts'
import { listen } from '../fhir-server/listen.ts'
import { createFhirServer } from '../fhir-server/server.ts'

/** Where the records come from, and the worker's variables that say so. */
export interface ChosenSource {
  readonly kind: 'demo' | 'configured'
  readonly variables: Readonly<Record<string, string>>
  /** What is read, in words. */
  readonly description: string
  close(): Promise<void>
}

/** The variables of the service that are handed on from the environment; what they may hold is checked by the worker. */
const handedOn = [
  'FHIR_BASE_URL',
  'TIME_ZONE',
  'FEEDS',
  'PRACTITIONER_SYSTEM',
  'EVENTS_KNOWN_BY',
  'PATHOLOGY_LAG_DAYS',
  'EVENT_LAG_DAYS',
  'SOURCES',
  'AS_OF',
  'ACCESS_TOKEN',
] as const

/** The demo is read as of this day, so that its figures are the same whenever it is started. */
export const demoAsOf = '2026-08-15'

/** Takes the source that the environment names; without one, starts the demo's FHIR server on a free port. */
export async function chooseSource(environment: Readonly<Record<string, string | undefined>>): Promise<ChosenSource> {
  const given = Object.fromEntries(
    handedOn.flatMap((name): [string, string][] => (environment[name] ? [[name, environment[name]]] : [])),
  )
  if (given.FHIR_BASE_URL !== undefined || given.SOURCES !== undefined) {
    const description =
      given.FHIR_BASE_URL === undefined ? 'the servers named in SOURCES' : 'the server named in FHIR_BASE_URL'
    return { kind: 'configured', variables: { ...given, LOCAL_START: 'true' }, description, close: async () => {} }
  }
  const server = await listen(createFhirServer(loadDemo()), 0)
  const variables = {
    SOURCES: JSON.stringify([demoSource(`${server.origin}/fhir`)]),
    AS_OF: given.AS_OF ?? demoAsOf,
    LOCAL_START: 'true',
  }
  const description = `an invented network's records (${server.origin}/fhir), as of ${variables.AS_OF}`
  return { kind: 'demo', variables, description, close: server.close }
}
