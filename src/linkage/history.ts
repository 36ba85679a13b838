import type { Codes } from '../fhir/codes.ts'
import { readMoment } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { isRefuted } from './gather.ts'

type History = Pick<Colonoscopy, 'inflammatoryBowelDisease' | 'hereditarySyndrome' | 'earlierResection'>

/**
 * What was known before the examination. A condition counts when it began or was recorded before the examination date; one
 * first recorded on the day itself was seen during the examination, not known beforehand.
 */
export function readHistory(
  examination: Examination,
  conditions: readonly Json[],
  codes: Codes,
  feedComplete: boolean,
): History {
  const known = (set: string): boolean | undefined => {
    for (const condition of conditions)
      if (codes.in(condition.code, set) && !isRefuted(condition) && isBefore(condition, examination)) {
        sawFeed(examination, 'history')
        return true
      }
    return feedComplete ? false : undefined
  }
  return {
    inflammatoryBowelDisease: known('inflammatory-bowel-disease'),
    hereditarySyndrome: known('hereditary-syndrome'),
    earlierResection: known('earlier-resection'),
  }
}

function isBefore(condition: Json, { date, zone }: Examination): boolean {
  const written = condition.onsetDateTime ?? asObject(condition.onsetPeriod)?.start ?? condition.recordedDate
  const moment = readMoment(written, zone)
  // A year or month counts when all of it lies before the examination.
  if (moment?.coarse !== undefined) return moment.coarse < date.slice(0, moment.coarse.length)
  return moment?.date !== undefined && moment.date < date
}
