import { daysBetween } from '../fhir/dates.ts'
import { ownKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import type { Rung } from './rungs.ts'

/** What is known of a resource that may belong to an examination. */
export interface Ties {
  /** Keys of procedures, polyps or reports it refers to directly. */
  readonly direct?: readonly (string | undefined)[]
  readonly orders?: readonly (string | undefined)[]
  readonly encounter?: string | undefined
  readonly patient?: string | undefined
  /** Civil date on which what it tells happened. */
  readonly date?: string | undefined
  /** Days after the examination within which that date may lie. */
  readonly withinDays?: number
}

export type Placement =
  | { readonly examination: Examination; readonly rung: Rung }
  /** Several examinations fit equally well: counted, not guessed. */
  | { readonly rivals: readonly Examination[] }
  | undefined

/**
 * The linkage ladder: direct reference, shared order, shared encounter, then same patient within a time window with no rival
 * examination. The first rung on which anything fits decides.
 */
export class Ladder {
  readonly #byKey = new Map<string, Examination>()
  readonly #byOrder = new Map<string, Examination[]>()
  readonly #byEncounter = new Map<string, Examination[]>()
  readonly #byPatient = new Map<string, Examination[]>()

  #examinations: readonly Examination[]

  constructor(examinations: readonly Examination[]) {
    this.#examinations = examinations
    for (const examination of examinations) {
      for (const procedure of examination.all) {
        const key = ownKey(procedure)
        if (key !== undefined) this.#byKey.set(key, examination)
      }
      for (const order of examination.orders) push(this.#byOrder, order, examination)
      for (const encounter of examination.encounters) push(this.#byEncounter, encounter, examination)
      push(this.#byPatient, examination.patient, examination)
    }
    for (const list of this.#byPatient.values()) list.sort(byDate)
  }

  get examinations(): readonly Examination[] {
    return this.#examinations
  }

  /** Takes out examinations that turned out not to have taken place: nothing leads to them from here on. */
  forget(gone: readonly Examination[]): void {
    if (gone.length === 0) return
    const stays = (examination: Examination) => !gone.includes(examination)
    this.#examinations = this.#examinations.filter(stays)
    for (const [key, examination] of this.#byKey) if (!stays(examination)) this.#byKey.delete(key)
    for (const map of [this.#byOrder, this.#byEncounter, this.#byPatient])
      for (const [key, list] of map) map.set(key, list.filter(stays))
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
    return (patient === undefined ? undefined : this.#byPatient.get(patient)) ?? []
  }

  place(ties: Ties): Placement {
    for (const key of ties.direct ?? []) {
      const examination = this.direct(key)
      if (examination) return { examination, rung: 'direct reference' }
    }
    const byOrder = decide(
      (ties.orders ?? []).flatMap((order) => (order && this.#byOrder.get(order)) || []),
      ties,
      'shared order',
    )
    if (byOrder) return byOrder
    const byEncounter = decide(
      (ties.encounter && this.#byEncounter.get(ties.encounter)) || [],
      ties,
      'shared encounter',
    )
    if (byEncounter) return byEncounter
    const { date, withinDays = 0 } = ties
    if (date === undefined) return undefined
    const near = this.ofPatient(ties.patient).filter((examination) => {
      const after = daysBetween(examination.date, date)
      return after >= 0 && after <= withinDays
    })
    return decide(near, ties, 'same patient within the time window')
  }
}

/** One candidate is the answer; of several, the only one on the very date; otherwise they are rivals. */
function decide(found: readonly Examination[], { date }: Ties, rung: Rung): Placement {
  if (found.length === 0) return undefined
  if (found.length === 1) return { examination: found[0] as Examination, rung }
  const candidates = [...new Set(found)]
  if (candidates.length === 1) return { examination: candidates[0] as Examination, rung }
  const sameDay = candidates.filter((examination) => examination.date === date)
  return sameDay.length === 1 ? { examination: sameDay[0] as Examination, rung } : { rivals: candidates }
}

function push(map: Map<string, Examination[]>, key: string, examination: Examination): void {
  const list = map.get(key)
  if (list) list.push(examination)
  else map.set(key, [examination])
}

const byDate = (one: Examination, other: Examination): number =>
  one.date === other.date ? (one.key < other.key ? -1 : 1) : one.date < other.date ? -1 : 1
