import { readMoment } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import { minutesOf } from '../fhir/quantity.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { Reading } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { listUnread } from './told-value.ts'

type Times = Pick<Colonoscopy, 'insertionMinutes' | 'withdrawalMinutes'>

/** Minutes by which the parts may be longer than the whole before that is worth a look: clocks and roundings differ. */
const slackMinutes = 10

/**
 * Minutes of insertion and withdrawal as observed, never taken from the length of the procedure. A bound or a range is no
 * time; zero minutes is listed and not recorded. Parts that are longer than the whole are listed, and stand.
 */
export function readTimes(examination: Examination, reading: Reading): Times {
  const { observations, trail, zone } = examination
  let insertion: Statement<number>[] | undefined
  let withdrawal: Statement<number>[] | undefined
  for (const told of observations.time) {
    if (!isKnownYet(told.resource, reading.asOf, zone)) continue
    const { fact } = told.code
    if (fact !== 'insertion-time' && fact !== 'withdrawal-time') continue
    const field = fact === 'insertion-time' ? 'insertionMinutes' : 'withdrawalMinutes'
    const minutes = minutesOf(told.holder)
    if (minutes === undefined) continue
    if (typeof minutes !== 'number') listUnread(field, told, examination, reading)
    else if (minutes === 0) trail?.contradict('insertion or withdrawal of zero minutes', told.resource)
    else if (field === 'insertionMinutes') insertion = stated(insertion, minutes, told)
    else withdrawal = stated(withdrawal, minutes, told)
  }
  const times: Times = {
    insertionMinutes: settle('insertionMinutes', insertion, examination),
    withdrawalMinutes: settle('withdrawalMinutes', withdrawal, examination),
  }
  if (trail) {
    const parts = (times.insertionMinutes ?? 0) + (times.withdrawalMinutes ?? 0)
    const whole = lengthOf(examination)
    if (whole !== undefined && parts > whole + slackMinutes)
      trail.contradict('insertion and withdrawal longer than the examination', ...resourcesOf(insertion, withdrawal))
  }
  return times
}

/** Minutes of the longest period that any resource of the examination states. */
function lengthOf({ all, zone }: Examination): number | undefined {
  let longest: number | undefined
  for (const { performedPeriod } of all) {
    const period = asObject(performedPeriod)
    const start = readMoment(period?.start, zone)?.instant
    const end = readMoment(period?.end, zone)?.instant
    if (start !== undefined && end !== undefined) longest = Math.max(longest ?? 0, (end - start) / 60_000)
  }
  return longest
}

const resourcesOf = (...lists: readonly (readonly Statement<number>[] | undefined)[]): Json[] =>
  lists.flatMap((list) => (list ?? []).map(({ told }) => told.resource))
