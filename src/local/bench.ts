/**
 * `npm run bench`: what the core costs beside reading the same bytes. The demo's examinations are taken window by window,
 * a month each, as the service pulls them; everything printed comes from this one run.
 */
import { readFileSync } from 'node:fs'
import { Codes } from '../fhir/codes.ts'
import { linkWindow } from '../linkage/link.ts'
import { compileMeasures } from '../measures/compiled-measures.ts'
import type { Definitions } from '../measures/definitions.ts'
import { monthsOf } from '../months.ts'
import { measureReport } from '../report/measure-report.ts'
import { pullWindow } from '../source/pull-window.ts'
import { pullNeeds } from '../source/source-codes.ts'
import { type AnswerRow, answerRow } from '../tally/answer-row.ts'
import { DividedRows } from '../tally/strata.ts'
import { tally } from '../tally/tally.ts'
import { benchCriteria } from './bench-criteria.ts'
import { loadDemo } from './demo/demo-data.ts'
import { demoSource } from './demo/demo-source.ts'
import { createFhirServer } from './fhir-server/server.ts'

const wanted = 100_000
const baseUrl = 'http://demo.example/fhir'
const source = demoSource(baseUrl)
const asOf = Date.parse('2026-08-15T22:59:59.999Z')
const definitions = JSON.parse(readFileSync('build/definitions.json', 'utf8')) as Definitions
const codes = new Codes(definitions.resources, source.conceptMaps)
const measures = compileMeasures(definitions.measures)
const period = { start: '2025-01-01', end: '2026-06-30' }
const months = monthsOf(period)

interface Delivered {
  readonly window: { readonly start: string; readonly end: string }
  readonly text: string
}

/** The windows as JSON text, pulled through the source layer from the demo server in memory. */
async function deliver(): Promise<Delivered[]> {
  const handler = createFhirServer(loadDemo(), { baseUrl })
  const need = pullNeeds(codes)
  const delivered: Delivered[] = []
  for (const window of months) {
    const { resources } = await pullWindow(source, window, need, (url, init) => handler(new Request(url, init)))
    delivered.push({ window, text: JSON.stringify(resources) })
  }
  return delivered
}

/** What the service does with a window's bytes: parse, link, answer all measures. */
function answerWindow({ window, text }: Delivered): AnswerRow[] {
  const resources = JSON.parse(text) as unknown[]
  const { colonoscopies } = linkWindow(resources, { source, codes, window, asOf })
  return colonoscopies.map((one) => answerRow(one, measures, source, asOf))
}

/** What it does with the rows of a whole period, once: count every measure by all its stratifiers, and report it. */
function report(rows: readonly AnswerRow[]): void {
  const divided = new DividedRows(rows)
  definitions.measures.forEach((measure, index) => {
    const result = tally(
      { measure, index, period, asOf: new Date(asOf).toISOString(), asOfDate: '2026-08-15' },
      rows,
      [source],
      divided,
    )
    measureReport({ ...result, leftOut: {}, incomplete: [] }, { date: '2026-08-15T00:00:00Z' })
  })
}

const windows = await deliver()
// Once through everything, so that neither side is timed while it is still being compiled.
report(windows.flatMap(answerWindow))

/** Milliseconds that some work on the windows takes, what it leaves to be collected included. */
function timed(work: (window: Delivered) => unknown, count: number, from: number): number {
  const start = performance.now()
  for (let turn = from; turn < from + count; turn++) work(windows[turn % windows.length] as Delivered)
  return performance.now() - start
}

let examinations = 0
let bytes = 0
let parseTime = 0
let coreTime = 0
let reportTime = 0
let turns = 0
// By turns in blocks, so that both sides meet the same machine, and each pays for collecting its own garbage.
const block = windows.length
while (examinations < wanted) {
  parseTime += timed(({ text }) => JSON.parse(text), block, turns)
  const rows: AnswerRow[] = []
  coreTime += timed(
    (window) => {
      for (const row of answerWindow(window)) rows.push(row)
      bytes += window.text.length
    },
    block,
    turns,
  )
  const start = performance.now()
  report(rows)
  reportTime += performance.now() - start
  examinations += rows.length
  turns += block
}
let peak = 0
for (const window of windows) {
  globalThis.gc?.()
  const held = process.memoryUsage().heapUsed
  answerWindow(window)
  peak = Math.max(peak, process.memoryUsage().heapUsed - held)
}

const records = windows
  .slice(0, 1)
  .flatMap(({ window, text }) =>
    linkWindow(JSON.parse(text) as unknown[], { source, codes, window, asOf }).colonoscopies.map(
      ({ record }) => record,
    ),
  )
const criteria = benchCriteria(
  definitions.measures.flatMap((measure) => Object.values(measure.criteria)),
  records,
)

const whole = (value: number) => Math.round(value).toLocaleString('en-GB')
console.log(`examinations                 ${whole(examinations)}, in ${turns} windows
bytes per examination        ${whole(bytes / examinations)}
JSON.parse alone             ${whole(parseTime)} ms
parse, link, answer          ${whole(coreTime)} ms (${measures.length} measures)
count and report             ${whole(reportTime)} ms (by every stratifier, once per ${months.length} windows)
core ÷ JSON.parse            ${((coreTime + reportTime) / parseTime).toFixed(2)} (aim: at most 2.0)
examinations per second      ${whole((examinations / (coreTime + reportTime)) * 1000)}
peak memory of one window    ${whole(peak / 1_048_576)} MiB above what was held before
criteria: fhirpath ÷ closures ${criteria.ratio.toFixed(0)} (aim: at least 100)`)
