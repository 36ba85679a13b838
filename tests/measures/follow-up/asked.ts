import { epochDay } from '../../../src/fhir/dates.ts'
import type { CompiledMeasure } from '../../../src/measures/compiled-measure.ts'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import type { Answer } from '../../../src/tally/answer.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'

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
