import type { Codes } from '../fhir/codes.ts'
import { readMoment } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Examination } from './examinations.ts'
import { isRefuted } from './gather.ts'

const facts = {
  inflammatoryBowelDisease: 'inflammatory-bowel-disease',
  hereditarySyndrome: 'hereditary-syndrome',
  earlierResection: 'earlier-resection',
} as const

/**
 * What was known before the examination. A condition counts when it began or was recorded before the examination date; one
 * first recorded on the day itself was seen during the examination, not known beforehand.
 */
export function readHistory(
  examination: Examination,
  conditions: readonly Json[],
  codes: Codes,
  feedComplete: boolean,
): Pick<Colonoscopy, keyof typeof facts> {
  const history: Pick<Colonoscopy, keyof typeof facts> = {}
  for (const [field, set] of Object.entries(facts) as [keyof typeof facts, string][]) {
    const known = conditions.some(
      (condition) => codes.in(condition.code, set) && !isRefuted(condition) && isBefore(condition, examination),
    )
    if (known) history[field] = true
    else if (feedComplete) history[field] = false
    if (known) examination.seen.add('history')
  }
  return history
}

function isBefore(condition: Json, { date, zone }: Examination): boolean {
  const written = condition.onsetDateTime ?? asObject(condition.onsetPeriod)?.start ?? condition.recordedDate
  const moment = readMoment(written, zone)
  // A year or month counts when all of it lies before the examination.
  if (moment?.coarse !== undefined) return moment.coarse < date.slice(0, moment.coarse.length)
  return moment?.date !== undefined && moment.date < date
}
