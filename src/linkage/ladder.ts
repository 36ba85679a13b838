import { addDays, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject } from '../fhir/json.ts'
import { keysAt, ownKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import { isOfOneVisit } from './one-visit.ts'
import type { Rung } from './rungs.ts'

/** What is known of a resource that may belong to an examination. */
export interface Ties {
  readonly orders?: readonly (string | undefined)[]
  readonly encounter?: string | undefined
  readonly patient?: string | undefined
  /** When what it tells happened: a FHIR date, dateTime, instant or Period, as written. */
  readonly when?: unknown
  /** Days after the examination within which that may lie; 0 by default. */
  readonly withinDays?: number
  /** Comes when it comes, as a report does: an order, or an encounter of the examination's days alone, needs no date. */
  readonly isLate?: boolean
  /** Whether it says by itself that it is of something else than an examination, so that patient and date prove nothing. */
  readonly isOfAnother?: ((examination: Examination) => boolean) | undefined
}

export type Placement =
  | { readonly examination: Examination; readonly rung: Rung }
  /** Several examinations fit equally well: counted, not guessed. */
  | { readonly rivals: readonly Examination[] }
  | undefined

const nobody: readonly Examination[] = []

/**
 * The linkage ladder: direct reference, shared order, shared encounter, then same patient within a time window with no rival
 * examination. The first rung on which anything fits decides. An order or an encounter may last for weeks: what is dated must
 * be of the examination's days even there.
 */
export class Ladder {
  readonly #byKey = new Map<string, Examination>()
  readonly #byOrder = new Map<string, Examination[]>()
  readonly #byEncounter = new Map<string, Examination[]>()
  readonly #byPatient = new Map<string, Examination[]>()

  readonly examinations: readonly Examination[]

  constructor(examinations: readonly Examination[]) {
    this.examinations = examinations
    for (const examination of examinations) {
      for (const procedure of examination.all) this.attach(ownKey(procedure), examination)
      for (const report of keysAt(examination.all, 'report')) this.attach(report, examination)
      for (const order of examination.orders) push(this.#byOrder, order, examination)
      for (const encounter of examination.encounters) push(this.#byEncounter, encounter, examination)
      push(this.#byPatient, examination.patient, examination)
    }
    for (const list of this.#byPatient.values()) if (list.length > 1) list.sort(byDate)
  }

  /** Makes a further resource a direct way to an examination: a child procedure, a polyp, a specimen, a report. */
  attach(key: string | undefined, examination: Examination): void {
    if (key !== undefined && !this.#byKey.has(key)) this.#byKey.set(key, examination)
  }

  /** Examination that a key leads to directly. */
  direct(key: string | undefined): Examination | undefined {
    return key === undefined ? undefined : this.#byKey.get(key)
  }

  /** The patient's examinations in order of date. */
  ofPatient(patient: string | undefined): readonly Examination[] {
    return (patient === undefined ? undefined : this.#byPatient.get(patient)) ?? nobody
  }

  place(ties: Ties): Placement {
    const { orders, encounter } = ties
    if (orders !== undefined && orders.length > 0) {
      const placement = decide(this.#ofOrders(orders), ties, 'shared order')
      if (placement) return placement
    }
    if (encounter !== undefined) {
      const placement = decide(this.#byEncounter.get(encounter) ?? nobody, ties, 'shared encounter')
      if (placement) return placement
    }
    return this.#byPatientAndDate(ties)
  }

  #ofOrders(orders: readonly (string | undefined)[]): readonly Examination[] {
    if (orders.length === 1) return (orders[0] === undefined ? undefined : this.#byOrder.get(orders[0])) ?? nobody
    return orders.flatMap((order) => (order === undefined ? nobody : (this.#byOrder.get(order) ?? nobody)))
  }

  #byPatientAndDate(ties: Ties): Placement {
    const known = this.ofPatient(ties.patient)
    const written = writtenIn(ties.when)
    if (known.length === 0 || written === undefined) return undefined
    const { isOfAnother } = ties
    const isPossible = (examination: Examination): boolean =>
      isOfAnother?.(examination) !== true && readMoment(written, examination.zone)?.date !== undefined
    return decide(
      known.every(isPossible) ? known : known.filter(isPossible),
      ties,
      'same patient within the time window',
    )
  }
}

/** One candidate is the answer; of several, the only one during which, or on whose very day, it happened; else they are rivals. */
function decide(found: readonly Examination[], ties: Ties, rung: Rung): Placement {
  const first = found[0]
  if (first === undefined) return undefined
  // Most patients, orders and encounters have one examination.
  if (found.length === 1) return fits(first, ties, rung) ? { examination: first, rung } : undefined
  const candidates = [...new Set(found)].filter((one) => fits(one, ties, rung))
  const [only] = candidates
  if (only === undefined) return undefined
  if (candidates.length === 1) return { examination: only, rung }
  const during = candidates.filter((one) => isDuring(one, ties))
  if (during.length === 1) return { examination: during[0] as Examination, rung }
  const sameDay = candidates.filter((one) => readMoment(writtenIn(ties.when), one.zone)?.date === one.date)
  return sameDay.length === 1 ? { examination: sameDay[0] as Examination, rung } : { rivals: candidates }
}

/** Date as written; of a period its start. */
const writtenIn = (when: unknown): unknown => {
  const period = asObject(when)
  return period === undefined ? when : (period.start ?? period.end)
}

function fits(examination: Examination, ties: Ties, rung: Rung): boolean {
  if (ties.isLate && (rung === 'shared order' || (rung === 'shared encounter' && isOfOneVisit(examination))))
    return !isBefore(examination, ties)
  return isWithin(examination, ties)
}

function isBefore({ span, zone }: Examination, { when }: Ties): boolean {
  const moment = when === undefined ? undefined : readMoment(writtenIn(when), zone)
  return moment !== undefined && spanOf(moment).last < span.first
}

/** Whether something happened on the examination's days, or in the days after that its kind is given. What has no date may have. */
function isWithin({ span, lastDay, zone }: Examination, { when, withinDays = 0 }: Ties): boolean {
  const moment = when === undefined ? undefined : readMoment(writtenIn(when), zone)
  if (moment === undefined) return true
  const { first, last } = spanOf(moment)
  return last >= span.first && first <= (withinDays === 0 ? lastDay : addDays(lastDay, withinDays))
}

function isDuring({ start, end, zone }: Examination, { when }: Ties): boolean {
  const instant = readMoment(writtenIn(when), zone)?.instant
  return instant !== undefined && start !== undefined && end !== undefined && instant >= start && instant <= end
}

function push(map: Map<string, Examination[]>, key: string, examination: Examination): void {
  const list = map.get(key)
  if (list) list.push(examination)
  else map.set(key, [examination])
}

const byDate = (one: Examination, other: Examination): number =>
  one.date === other.date ? (one.key < other.key ? -1 : 1) : one.date < other.date ? -1 : 1
