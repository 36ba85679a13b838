import type { Criterion } from '../criteria/criterion.ts'
import type { MeasureDefinition } from './measure.ts'

/** Names of all facts that a measure's criteria read, in alphabetical order; `polyps.site` for one of each polyp. */
export function fieldsOf({ criteria, besides }: MeasureDefinition): string[] {
  const all: readonly (Criterion | undefined)[] = [
    ...Object.values(criteria),
    ...besides.map(({ criterion }) => criterion),
  ]
  const names = new Set(all.flatMap((one) => one?.fields ?? []))
  // A list stands for itself only where nothing of its elements is read.
  return [...names].filter((name) => ![...names].some((other) => other.startsWith(`${name}.`))).sort()
}
