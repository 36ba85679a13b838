import { readFileSync } from 'node:fs'
import type { Measure } from 'fhir/r4'
import { parseCriterion } from '../../../src/criteria/parse.ts'
import { epochDay } from '../../../src/fhir/dates.ts'
import { type CompiledMeasure, compileMeasure } from '../../../src/measures/compiled-measure.ts'
import { readMeasure } from '../../../src/measures/read-measure.ts'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { fields } from '../../../src/record/fields.ts'
import type { Answer } from '../../../src/tally/answer.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'

/** A measure of this family, read from its file. */
export function measureOf(id: string): CompiledMeasure {
  const resource = JSON.parse(readFileSync(`measures/Measure-${id}.json`, 'utf8')) as Measure
  return compileMeasure(readMeasure(resource, (expression, want) => parseCriterion(expression, want, fields)))
}

/** An examination of March 2026, asked long after every lag and window. */
export const longAfter = {
  day: epochDay('2026-03-10'),
  asOfDay: epochDay('2031-01-01'),
  pathologyLagDays: 60,
  eventLagDays: 0,
}

/** What a record answers, and the descriptions under which it is counted beside. */
export function asked(measure: CompiledMeasure, record: Colonoscopy): { answer: Answer; beside: string[] } {
  const answer = answerOf(measure, record, longAfter)
  const descriptions = measure.definition.besides.map(({ description }) => description)
  return { answer, beside: (answer.besides ?? []).map((place) => descriptions[place] ?? '') }
}
