import { daysBetween, isKnownBy, type Moment, readMoment } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import { monthsBetween } from './months-between.ts'
import type { Reading } from './reading.ts'
import type { Stated } from './stated-advice.ts'

const meant: ReadonlySet<unknown> = new Set(['order', 'plan'])
const standing: ReadonlySet<unknown> = new Set(['active', 'completed'])

/** Days after an examination within which another one is its continuation: no guideline has a surveillance interval of a week. */
const daysOfOneEpisode = 7

/**
 * Orders for another colonoscopy, made in the examination's own encounter: the months from the examination to the planned date,
 * to one decimal; undefined where no date is planned. What was ordered before the examination, or for its own day, or on
 * which it is based, is not about the next one. What is planned within a week goes on with this one, and is no interval.
 */
export function statedByOrders(
  examination: Examination,
  orders: readonly Json[],
  { codes, asOf, survey }: Reading,
): Stated<number | undefined>[] {
  const stated: Stated<number | undefined>[] = []
  for (const order of orders) {
    const encounter = referenceKey(order.encounter)
    if (encounter === undefined || !examination.encounters.includes(encounter)) continue
    if (!meant.has(order.intent) || !standing.has(order.status) || order.doNotPerform === true) continue
    if (examination.orders.includes(ownKey(order) ?? '')) continue
    const code = codes.of(order.code)
    if (code === unknownMeaning) survey?.missed('ServiceRequest.code', order.code, examination.patient)
    if (!code.sets.has('colonoscopy')) continue
    if (!isKnownBy(order.authoredOn, asOf, examination.zone)) continue
    const signed = readMoment(order.authoredOn, examination.zone)
    const element = order.occurrencePeriod === undefined ? 'occurrenceDateTime' : 'occurrencePeriod'
    const planned = readMoment(asObject(order.occurrencePeriod)?.start ?? order.occurrenceDateTime, examination.zone)
    if (isMadeBefore(signed, examination)) continue
    if (planned === undefined && !isMadeAfter(signed, examination)) continue
    if (planned?.date !== undefined && planned.date <= examination.span.last) continue
    const isOfThisEpisode =
      planned?.date !== undefined && daysBetween(examination.span.last, planned.date) <= daysOfOneEpisode
    if (isOfThisEpisode) examination.trail?.cannotRead('advisedIntervalMonths', order, `ServiceRequest.${element}`)
    stated.push({
      value: isOfThisEpisode ? undefined : monthsTo(planned, order, examination),
      signed,
      resource: order,
      element: order.occurrenceTiming === undefined ? `ServiceRequest.${element}` : 'ServiceRequest.occurrenceTiming',
      rung: 'shared encounter',
    })
  }
  return stated
}

function isMadeBefore(signed: Moment | undefined, { span, start }: Examination): boolean {
  if (signed?.date === undefined) return false
  if (signed.date < span.first) return true
  return signed.instant !== undefined && start !== undefined && signed.instant < start
}

function isMadeAfter(signed: Moment | undefined, { span, start }: Examination): boolean {
  if (signed?.date === undefined) return false
  if (signed.date > span.last) return true
  return signed.instant !== undefined && start !== undefined && signed.instant > start
}

/** Months to a planned date. A month or a year alone cannot be read as an interval, nor can a repeating plan. */
function monthsTo(
  planned: Moment | undefined,
  order: Json,
  { span, date }: Examination,
): number | 'unreadable' | undefined {
  if (planned === undefined)
    return (order.occurrenceTiming ?? order.occurrenceDateTime ?? order.occurrencePeriod) ? 'unreadable' : undefined
  if (planned.date === undefined || span.first !== span.last) return 'unreadable'
  return monthsBetween(date, planned.date)
}
