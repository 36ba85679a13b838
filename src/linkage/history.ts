import type { Codes } from '../fhir/codes.ts'
import { isKnownBy, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { isRefuted } from './gather.ts'

type History = Pick<Colonoscopy, 'inflammatoryBowelDisease' | 'hereditarySyndrome' | 'earlierResection'>

/**
 * What was known before the examination. A condition counts when it began or was recorded before the examination date; one
 * first recorded on the day itself was seen during the examination, not known beforehand. One whose dates cannot decide that
 * leaves the fact not recorded, unless another decides it.
 *
 * @param conditions the patient's
 * @param more the patient's procedures, of which a completed resection counts from its date; and the instant (milliseconds
 * since 1970) after which nothing recorded is known yet
 */
export function readHistory(
  examination: Examination,
  conditions: readonly Json[],
  codes: Codes,
  feedComplete: boolean,
  more: { readonly procedures?: readonly Json[]; readonly asOf?: number } = {},
): History {
  const { procedures = [], asOf = Number.POSITIVE_INFINITY } = more
  const known = (set: string, resections: readonly Json[] = []): boolean | undefined => {
    let open = !feedComplete
    const tell = (answer: boolean | undefined) => {
      if (answer !== false) sawFeed(examination, 'history')
      if (answer === undefined) open = true
      return answer === true
    }
    for (const condition of conditions)
      if (
        codes.in(condition.code, set) &&
        !isRefuted(condition) &&
        isKnownBy(condition.recordedDate, asOf, examination.zone) &&
        tell(isBefore([condition.onsetDateTime ?? startOf(condition.onsetPeriod), condition.recordedDate], examination))
      )
        return true
    for (const { status, code, performedDateTime, performedPeriod } of resections)
      if (
        status === 'completed' &&
        codes.in(code, set) &&
        tell(isBefore([performedDateTime ?? startOf(performedPeriod)], examination))
      )
        return true
    return open ? undefined : false
  }
  return {
    inflammatoryBowelDisease: known('inflammatory-bowel-disease'),
    hereditarySyndrome: known('hereditary-syndrome'),
    earlierResection: known('earlier-resection', procedures),
  }
}

const startOf = (period: unknown): unknown => asObject(period)?.start

/**
 * Whether any of some dates lies before the examination date. Undefined when none does and one cannot tell: a month or year
 * that reaches over that date, or no date that can be read at all.
 */
function isBefore(written: readonly unknown[], { date, zone }: Examination): boolean | undefined {
  const moments = written.map((value) => readMoment(value, zone)).filter((moment) => moment !== undefined)
  const spans = moments.map(spanOf)
  if (spans.some(({ last }) => last < date)) return true
  return spans.length > 0 && spans.every(({ first }) => first >= date) ? false : undefined
}
