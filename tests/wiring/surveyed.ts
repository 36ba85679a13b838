import type { Source } from '../../src/config.ts'
import { Codes } from '../../src/fhir/codes.ts'
import type { LeftOut, Window } from '../../src/linkage/context.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { Survey } from '../../src/linkage/survey.ts'
import { loadDemo } from '../../src/local/demo/demo-data.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { pullWindow } from '../../src/source/pull-window.ts'
import { pullNeeds } from '../../src/source/source-codes.ts'
import { closestConcepts } from '../../src/wiring/closest.ts'
import { emptyFindings } from '../../src/wiring/feed-findings.ts'
import { type SourceWiring, sourceWiring } from '../../src/wiring/report.ts'
import { WiringTotals } from '../../src/wiring/totals.ts'
import { asOf as demoAsOf, demoBase, demoServer } from '../demo/pull-demo.ts'
import { definitions } from '../stories/ask.ts'
import { northmoor } from '../stories/northmoor.ts'

const codes = new Codes(definitions.resources)
const closest = closestConcepts(definitions.resources)

interface Part {
  readonly window: Window
  readonly resources: readonly unknown[]
}

/** The wiring of some resources over some windows, which together are the period. */
export const wiringOf = (resources: readonly unknown[], ...windows: readonly Window[]): SourceWiring =>
  wiringOfParts(
    windows.map((window) => ({ window, resources })),
    { source: northmoor, codes, asOf: Date.parse('2027-01-01T00:00:00Z') },
  )

/** The wiring of the demo, each window with what a pull of it brings. */
export async function wiringOfDemo(windows: readonly Window[]): Promise<SourceWiring> {
  const source = demoSource(demoBase)
  const own = new Codes(definitions.resources, source.conceptMaps)
  const fetchSource = demoServer(loadDemo())
  const parts: Part[] = []
  for (const window of windows) {
    const { resources } = await pullWindow(source, window, pullNeeds(own), fetchSource)
    parts.push({ window, resources })
  }
  return wiringOfParts(parts, { source, codes: own, asOf: demoAsOf })
}

function wiringOfParts(
  parts: readonly Part[],
  context: { readonly source: Source; readonly codes: Codes; readonly asOf: number },
): SourceWiring {
  const totals = new WiringTotals()
  const period = { start: parts[0]?.window.start ?? '', end: parts.at(-1)?.window.end ?? '' }
  const leftOut = new Map<string, LeftOut>()
  for (const { window, resources } of parts) {
    const survey = new Survey()
    const linked = linkWindow(resources, { ...context, window, period, survey })
    totals.add(survey, [])
    for (const one of linked.leftOut) leftOut.set(`${one.reason}|${one.reference}`, one)
  }
  totals.add(new Survey(), [...leftOut.values()])
  return sourceWiring(context.source.id, totals, emptyFindings(context.source), closest, { incomplete: [], notes: [] })
}

export const spring: Window = { start: '2026-03-01', end: '2026-05-31' }
