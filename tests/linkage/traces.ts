import type { LinkedWindow } from '../../src/linkage/link.ts'
import type { Survey } from '../../src/linkage/survey.ts'

/** How often each thing is told that the wiring report shows of what did not fit. */
export type Traces = ReadonlyMap<string, number>

export function tracesOf({ leftOut }: LinkedWindow, survey: Survey): Traces {
  const traces = new Map<string, number>()
  const add = (what: string, count = 1) => traces.set(what, (traces.get(what) ?? 0) + count)
  for (const { reason } of leftOut) add(`left out: ${reason}`)
  for (const [key, { count }] of survey.unmatched) add(`unmatched: ${key}`, count)
  for (const [element, { count }] of survey.deadEnds) add(`dead end: ${element}`, count)
  for (const [what, keys] of survey.unplaced)
    add(`unlinked: ${what}`, [...keys].filter((key) => !survey.placed.has(key)).length)
  for (const [what, keys] of survey.malformed) add(`malformed: ${what}`, keys.size)
  for (const { trail } of survey.examinations) {
    for (const { field, element } of trail.unreadable) add(`unreadable: ${field} in ${element}`)
    for (const { kind } of trail.contradictions) add(`contradiction: ${kind}`)
    for (const { kind } of trail.doubts) add(`doubt: ${kind}`)
  }
  return traces
}

/** What is told more often than before. */
export const newTraces = (now: Traces, before: Traces): string[] =>
  [...now].flatMap(([what, count]) => (count > (before.get(what) ?? 0) ? [what] : []))
