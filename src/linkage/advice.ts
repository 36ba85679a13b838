import { isKnownBy, readMoment } from '../fhir/dates.ts'
import { holdsValue } from '../fhir/holds-value.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { monthsOf } from '../fhir/quantity.ts'
import { afterwards } from '../record/afterwards.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { statedByOrders } from './advice-in-orders.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'
import { isLater, isOfLaterDay, latestOf, type Stated } from './stated-advice.ts'

type Advice = Pick<Colonoscopy, 'advice' | 'advisedIntervalMonths'>

/** The facts, and the statements that they rest on. */
export interface WeighedAdvice {
  readonly facts: Advice
  /** The latest that was signed, be it one thing or several. */
  readonly latest: readonly Stated<unknown>[]
}

type Word = NonNullable<Colonoscopy['advice']>

const signedStatus: ReadonlySet<unknown> = new Set(['final', 'amended', 'corrected'])
const isWord = (word: unknown): word is Word => afterwards.advice.values.some((one) => one === word)

/**
 * What was advised about the next examination, and in how many months: by the latest signed advice known by the as-of instant.
 * Of two statements the later day counts, and on one day the later time where both have one; statements that cannot be put in
 * order stand beside each other, and where they differ nothing is recorded. The latest that cannot be read leaves the fact not
 * recorded; an older one does not take its place.
 *
 * An interval, and an order for another colonoscopy, mean a repeat, unless words that are not older say otherwise. An interval
 * older than advice against a repeat is no longer advised. The date of an order is an interval only where no interval was
 * signed on its day or after it. A range of months is no interval: neither end of it is the advice. Nor is none at all.
 *
 * @param orders ServiceRequests, among them those of the examination's encounters
 */
export function readAdvice(examination: Examination, orders: readonly Json[], reading: Reading): WeighedAdvice {
  const told = examination.observations.advice
  const followed = examination.all.some(({ followUp }) => followUp !== undefined)
  if (told.length === 0 && orders.length === 0 && !followed) return nothingAdvised

  const words: Stated<Word>[] = []
  const intervals: Stated<number>[] = []
  for (const one of told) readObservation(one, examination, reading, words, intervals)
  if (followed) for (const procedure of examination.all) readFollowUp(procedure, examination, reading, words)
  const planned = statedByOrders(examination, orders, reading)

  const repeats = [...intervals.filter(({ value }) => value !== 'unreadable'), ...planned].map(
    (one): Stated<Word> => ({ ...one, value: 'repeat-colonoscopy' }),
  )
  const spoken = latestOf([...words, ...repeats.filter((one) => words.every((word) => isLater(one, word)))])
  const ordered = planned.filter(
    (order): order is Stated<number> =>
      order.value !== undefined && intervals.every((interval) => isOfLaterDay(order, interval)),
  )
  const latest = latestOf(ordered.length > 0 ? ordered : intervals)
  const isOlder = latest.every((interval) => spoken.some((word) => isLater(word, interval)))
  if (!isOlder && spoken.some(({ value }) => value === 'no-further-colonoscopy')) {
    examination.trail?.contradict(
      'advice against a further colonoscopy, and an interval to it',
      ...[...spoken, ...latest].map(({ resource }) => resource),
    )
    return nothingAdvised
  }
  const advice = settled(examination, 'advice', spoken)
  // An interval that is older than advice of something else is no longer advised.
  const isWithdrawn = isOlder && spoken.some(({ value }) => value !== 'repeat-colonoscopy')
  const months = isWithdrawn ? undefined : settled(examination, 'advisedIntervalMonths', latest)
  return { facts: { advice, advisedIntervalMonths: months }, latest: spoken }
}

/** Months: what is none when rounded to one decimal is no interval. */
const shortestInterval = 0.05

const nothingAdvised: WeighedAdvice = {
  facts: { advice: undefined, advisedIntervalMonths: undefined },
  latest: [],
}

/** Advice observations tell both of it and of the interval, one of them perhaps as a component. */
function readObservation(
  told: Told,
  examination: Examination,
  { codes, asOf, survey }: Reading,
  words: Stated<Word>[],
  intervals: Stated<number>[],
): void {
  const { resource, rung } = told
  const written = resource.issued ?? resource.effectiveDateTime ?? asObject(resource.effectivePeriod)?.start
  if (!signedStatus.has(resource.status) || !isKnownBy(written, asOf, examination.zone)) return
  const signed = readMoment(written, examination.zone)
  const read = (holder: Json, fact: string | undefined) => {
    if (!holdsValue(holder)) return
    const part = holder === resource ? 'Observation' : 'Observation.component'
    if (fact === 'advised-interval') {
      const months = monthsOf(holder)
      const value = typeof months === 'number' && months >= shortestInterval ? months : 'unreadable'
      const name = Object.keys(holder).find((key) => key.startsWith('value')) ?? 'value[x]'
      intervals.push({ value, signed, resource, element: `${part}.${name}`, rung })
    } else if (fact === 'advice') {
      const word = codes.fact(holder.valueCodeableConcept)
      if (!isWord(word)) {
        survey?.missed('Observation.valueCodeableConcept (advice)', holder.valueCodeableConcept, examination.patient)
        survey?.missedText('Observation.valueString (advice)', holder.valueString, examination.patient)
      }
      const value = isWord(word) ? word : 'unreadable'
      words.push({ value, signed, resource, element: `${part}.valueCodeableConcept`, rung })
    }
  }
  read(told.holder, told.code.fact)
  if (told.holder === resource)
    for (const component of asObjects(resource.component)) {
      const code = codes.of(component.code)
      if (code.fact !== 'advice' && code.fact !== 'advised-interval')
        survey?.missed('Observation.component.code (advice)', component.code, examination.patient)
      read(component, code.fact)
    }
}

/** Advice written into the procedure itself has no date of its own: it is of the examination's day. */
function readFollowUp(
  procedure: Json,
  examination: Examination,
  { codes, survey }: Reading,
  words: Stated<Word>[],
): void {
  for (const concept of asObjects(procedure.followUp)) {
    const word = codes.fact(concept)
    if (!isWord(word)) {
      survey?.missed('Procedure.followUp', concept, examination.patient)
      continue
    }
    words.push({
      value: word,
      signed: { date: examination.date },
      resource: procedure,
      element: 'Procedure.followUp',
      rung: 'own element',
    })
  }
}

/** The one value of statements that stand beside each other; what differs is listed as a contradiction. */
function settled<Value extends string | number>(
  { trail }: Examination,
  field: 'advice' | 'advisedIntervalMonths',
  stated: readonly Stated<Value>[],
): Value | undefined {
  const [first] = stated
  if (first === undefined) return undefined
  const unreadable = stated.filter(({ value }) => value === 'unreadable')
  for (const { resource, element } of unreadable) trail?.cannotRead(field, resource, element)
  if (unreadable.length > 0 || first.value === 'unreadable') return undefined
  if (stated.some(({ value }) => value !== first.value)) {
    trail?.contradict('two different values of one measurement', ...stated.map(({ resource }) => resource))
    return undefined
  }
  for (const { resource, rung, element } of stated) trail?.note(field, resource, rung, element)
  return first.value
}
