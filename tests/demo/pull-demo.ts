import type { FhirResource } from 'fhir/r4'
import type { Source } from '../../src/config.ts'
import { Codes } from '../../src/fhir/codes.ts'
import type { LeftOut } from '../../src/linkage/context.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { createFhirServer, type Handler } from '../../src/local/fhir-server/server.ts'
import { compileMeasures } from '../../src/measures/compiled-measures.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import type { FetchSource } from '../../src/source/connection.ts'
import { pullWindow } from '../../src/source/pull-window.ts'
import { pullNeeds } from '../../src/source/source-codes.ts'
import { type AnswerRow, answerRow } from '../../src/tally/answer-row.ts'
import { definitions } from '../stories/ask.ts'

export const demoBase = 'http://demo.example/fhir'
export const asOf = Date.parse('2026-08-15T22:59:59.999Z')
const measures = compileMeasures(definitions.measures)

/** A fetch that ends at a server in memory. */
export const inMemory =
  (handler: Handler): FetchSource =>
  (url, init) =>
    handler(new Request(url, init))

export const demoServer = (
  resources: readonly FhirResource[],
  options: Parameters<typeof createFhirServer>[1] = {},
): FetchSource => inMemory(createFhirServer(resources, { baseUrl: demoBase, ...options }))

export interface Answered {
  readonly rows: AnswerRow[]
  readonly leftOut: LeftOut[]
  readonly incomplete: string[]
}

/** Pulls, links and answers some windows, one after the other, all measures at once. */
export async function answerWindows(
  fetchSource: FetchSource,
  windows: readonly { start: string; end: string }[],
  source: Source = demoSource(demoBase),
  shuffle: (resources: readonly unknown[]) => readonly unknown[] = (resources) => resources,
): Promise<Answered> {
  const answered: Answered = { rows: [], leftOut: [], incomplete: [] }
  for await (const { linked, incomplete } of eachWindow(fetchSource, windows, source, shuffle)) {
    answered.rows.push(...linked.colonoscopies.map((one) => answerRow(one, measures, source, asOf)))
    answered.leftOut.push(...linked.leftOut)
    answered.incomplete.push(...incomplete)
  }
  return answered
}

/** The records of some windows. */
export async function linkWindows(
  fetchSource: FetchSource,
  windows: readonly { start: string; end: string }[],
): Promise<Colonoscopy[]> {
  const records: Colonoscopy[] = []
  for await (const { linked } of eachWindow(fetchSource, windows, demoSource(demoBase), (resources) => resources))
    records.push(...linked.colonoscopies.map(({ record }) => record))
  return records
}

async function* eachWindow(
  fetchSource: FetchSource,
  windows: readonly { start: string; end: string }[],
  source: Source,
  shuffle: (resources: readonly unknown[]) => readonly unknown[],
) {
  const codes = new Codes(definitions.resources, source.conceptMaps)
  const need = pullNeeds(codes)
  for (const window of windows) {
    const { resources, incomplete } = await pullWindow(source, window, need, fetchSource)
    yield { linked: linkWindow(shuffle(resources), { source, codes, window, asOf }), incomplete }
  }
}
