import { Codes } from '../../src/fhir/codes.ts'
import type { Window } from '../../src/linkage/context.ts'
import { linkWindow } from '../../src/linkage/link.ts'
import { Survey } from '../../src/linkage/survey.ts'
import { closestConcepts } from '../../src/wiring/closest.ts'
import { emptyFindings } from '../../src/wiring/feed-findings.ts'
import { type SourceWiring, sourceWiring } from '../../src/wiring/report.ts'
import { WiringTotals } from '../../src/wiring/totals.ts'
import { definitions, northmoor } from '../stories/ask.ts'

const codes = new Codes(definitions.resources)
const closest = closestConcepts(definitions.resources)

/** The wiring of some resources over some windows, which together are the period. */
export function wiringOf(resources: readonly unknown[], ...windows: readonly Window[]): SourceWiring {
  const totals = new WiringTotals()
  const period = { start: windows[0]?.start ?? '', end: windows.at(-1)?.end ?? '' }
  for (const window of windows) {
    const survey = new Survey()
    const asOf = Date.parse('2027-01-01T00:00:00Z')
    const { leftOut } = linkWindow(resources, { source: northmoor, codes, window, period, asOf, survey })
    totals.add(survey, leftOut)
  }
  return sourceWiring('northmoor', totals, emptyFindings(northmoor), closest, { incomplete: [], notes: [] })
}

export const spring: Window = { start: '2026-03-01', end: '2026-05-31' }
