import { readFileSync } from 'node:fs'
import type { Measure } from 'fhir/r4'
import type { Criterion } from '../../src/criteria/criterion.ts'
import type { MeasureDefinition } from '../../src/measures/measure.ts'
import { readMeasure } from '../../src/measures/read-measure.ts'

/** A published measure as reports see it. Reports evaluate nothing, so its criteria keep only their text. */
export function publishedMeasure(id: string): MeasureDefinition {
  const resource = JSON.parse(readFileSync(`measures/Measure-${id}.json`, 'utf8')) as Measure
  const unread = (expression: string): Criterion => ({ expression, ast: { kind: 'empty' }, fields: [] })
  return readMeasure(resource, unread)
}
