import { readFileSync } from 'node:fs'
import type { FhirResource } from 'fhir/r4'
import type { Source } from '../../src/config.ts'
import { Codes } from '../../src/fhir/codes.ts'
import { civilDate } from '../../src/fhir/dates.ts'
import type { LeftOut } from '../../src/linkage/context.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { listen } from '../../src/local/fhir-server/listen.ts'
import { createFhirServer } from '../../src/local/fhir-server/server.ts'
import { compileMeasures } from '../../src/measures/compiled-measures.ts'
import type { Definitions } from '../../src/measures/definitions.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { type Pulled, pullWindow } from '../../src/source/pull-window.ts'
import { pullNeeds } from '../../src/source/source-codes.ts'
import { answerRow } from '../../src/tally/answer-row.ts'
import type { MeasureResult } from '../../src/tally/result.ts'
import { tally } from '../../src/tally/tally.ts'

export const definitions = JSON.parse(readFileSync('build/definitions.json', 'utf8')) as Definitions
export const nationalProvider = 'http://hl7.org/fhir/sid/us-npi'
const measures = compileMeasures(definitions.measures)
const window = { start: '1990-01-01', end: '2030-12-31' }
const asOf = Date.parse('2026-08-15T12:00:00Z')

export interface Linked {
  readonly records: readonly Colonoscopy[]
  readonly leftOut: readonly LeftOut[]
}

export interface Examined extends Linked {
  readonly pulled: Pulled
  /** One measure over the whole window. */
  report(measure: string): Omit<MeasureResult, 'leftOut' | 'incomplete'>
}

/** Undeclared throughout: no units, no complete feed. The zone is that of Massachusetts, where the generated patients live. */
const harbour: Source = {
  id: 'harbour',
  baseUrl: 'https://fhir.harbour.example/fhir',
  zone: 'America/New_York',
  units: [],
  practitionerSystem: nationalProvider,
  completeFeeds: [],
  pathologyLagDays: 60,
  eventLagDays: 0,
  eventsKnownBy: 'not-stated',
  conceptMaps: [],
}
const codes = new Codes(definitions.resources)

/** Links resources as they are, without a server between. */
export function link(resources: readonly unknown[]): Linked {
  const { colonoscopies, leftOut } = linkWindow(resources, { source: harbour, codes, window, asOf })
  return { records: colonoscopies.map(({ record }) => record), leftOut }
}

/** Puts resources on a FHIR server, pulls them over HTTP as one window of forty years, and answers every measure. */
export async function examine(resources: readonly FhirResource[]): Promise<Examined> {
  const server = await listen(createFhirServer(resources), 0)
  const source = { ...harbour, baseUrl: `${server.origin}/fhir` }
  const need = pullNeeds(codes)
  const pulled = await pullWindow(source, window, need, (url, init) => fetch(url, init)).finally(server.close)
  const { colonoscopies, leftOut } = linkWindow(pulled.resources, { source, codes, window, asOf })
  const rows = colonoscopies.map((one) => answerRow(one, measures, source, asOf))
  return {
    records: colonoscopies.map(({ record }) => record),
    leftOut,
    pulled,
    report(id) {
      const index = definitions.measures.findIndex((measure) => measure.id === id)
      const measure = definitions.measures[index]
      if (measure === undefined) throw new RangeError(`no measure ${id}`)
      const asOfDate = civilDate(asOf, source.zone)
      return tally({ measure, index, period: window, asOf: new Date(asOf).toISOString(), asOfDate }, rows, [source])
    },
  }
}
