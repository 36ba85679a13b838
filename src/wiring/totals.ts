import { ownKey } from '../fhir/references.ts'
import type { LeftOut } from '../linkage/context.ts'
import { type DeadEnd, inRespectOf, type Survey, type Surveyed, type Unmatched } from '../linkage/survey.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Field } from '../record/field.ts'
import { type FieldName, fields } from '../record/fields.ts'

/** How often something was met, and a few places to look at. */
export interface Tallied {
  count: number
  readonly examples: string[]
}

/** How often a fact was recorded, by which ways, and how often what stood there could not be read. */
export interface FieldTotal {
  recorded: number
  /** Examinations, or for a field of a list its elements, in which it could be recorded. */
  of: number
  readonly unreadable: Tallied
  /** Examinations by element and rung. */
  readonly ways: Map<string, { readonly element: string; readonly rung: string; count: number }>
}

/** References kept of each kind of fault: enough to look at, few enough to read. */
const examplesKept = 5

/**
 * What the surveys of many windows come to. Windows own their examinations, so that the sums are the same however a period is
 * cut; patients' keys are kept only to count them.
 */
export class WiringTotals {
  examinations = 0
  severalReasons = 0
  reasonsStated = 0
  readonly fields = new Map<string, FieldTotal>()
  readonly unmatched = new Map<string, Unmatched>()
  readonly deadEnds = new Map<string, DeadEnd>()
  /** Keys of resources that some window could not place, by what they are. */
  readonly unplaced = new Map<string, Set<string>>()
  /** Keys of those that some window placed. */
  readonly placed = new Set<string>()
  /** Keys of resources by an element of theirs that is not of its shape, and what is wrong with it. */
  readonly malformed = new Map<string, Set<string>>()
  /** Keys of resources that came with two contents, of which nothing says which is the newer. */
  readonly #differing = new Set<string>()
  readonly leftOut = new Map<string, Tallied>()
  readonly contradictions = new Map<string, Tallied>()
  readonly doubts = new Map<string, Tallied>()
  /** Examinations by minutes, for the times that people type. */
  readonly minutes = { insertionMinutes: new Map<number, number>(), withdrawalMinutes: new Map<number, number>() }

  constructor() {
    for (const [name, field] of Object.entries<Field>(fields)) {
      this.fields.set(name, emptyTotal())
      for (const inner of Object.keys(field.of ?? {})) this.fields.set(`${name}.${inner}`, emptyTotal())
    }
  }

  /** Adds one window. */
  add(survey: Survey, leftOut: readonly LeftOut[]): void {
    for (const examination of survey.examinations) this.#addExamination(examination)
    for (const { reference, reason } of leftOut) tell(this.leftOut, reason, reference)
    for (const [key, one] of survey.unmatched) {
      const known = this.unmatched.get(key)
      if (known === undefined) {
        const wordings = new Map([...one.wordings].map(([words, patients]) => [words, new Set(patients)]))
        this.unmatched.set(key, { ...one, patients: new Set(one.patients), wordings })
      } else {
        known.count += one.count
        addAll(known.patients, one.patients)
        for (const [words, patients] of one.wordings)
          known.wordings.set(words, addAll(known.wordings.get(words), patients))
      }
    }
    for (const [element, { count, examples }] of survey.deadEnds) {
      const known = this.deadEnds.get(element) ?? { element, count: 0, examples: [] }
      this.deadEnds.set(element, known)
      known.count += count
      for (const example of examples) keepExample(known.examples, example)
    }
    for (const [what, keys] of survey.unplaced) this.unplaced.set(what, addAll(this.unplaced.get(what), keys))
    addAll(this.placed, survey.placed)
    addAll(this.#differing, survey.differing)
    for (const [what, keys] of survey.malformed) this.malformed.set(what, addAll(this.malformed.get(what), keys))
  }

  /** Resources with an element that is not of its shape, by that element and what is wrong with it. */
  misshapen(): Map<string, Tallied> {
    return new Map([...this.malformed].map(([what, keys]) => [what, talliedKeys([...keys].sort())]))
  }

  /** Resources of which one of two contents was read, as a line. */
  differing(): Map<string, Tallied> {
    const keys = [...this.#differing].sort()
    return new Map(keys.length === 0 ? [] : [['two copies of one resource that differ', talliedKeys(keys)]])
  }

  /** Resources that no window could place, by what they are. */
  unlinked(): Map<string, Tallied> {
    const left = [...this.unplaced].map(([what, keys]): [string, Tallied] => {
      const isPlaced = (key: string) => this.placed.has(key) || this.placed.has(inRespectOf(what, key))
      const lost = [...keys].filter((key) => !isPlaced(key)).sort()
      return [what, talliedKeys(lost)]
    })
    return new Map(left.filter(([, { count }]) => count > 0))
  }

  #addExamination({ record, trail }: Surveyed): void {
    this.examinations++
    if (record.reasonCount !== undefined) this.reasonsStated++
    if ((record.reasonCount ?? 0) > 1) this.severalReasons++
    for (const [name, field] of Object.entries<Field>(fields)) this.#addField(record, name as FieldName, field)
    for (const name of ['insertionMinutes', 'withdrawalMinutes'] as const) {
      const value = record[name]
      if (value !== undefined) this.minutes[name].set(value, (this.minutes[name].get(value) ?? 0) + 1)
    }
    const counted = new Set<string>()
    for (const { field, rung, element } of trail.evidence) {
      const way = `${element}|${rung}`
      // A way counts once for each examination, however many resources went it.
      if (counted.has(`${field}|${way}`)) continue
      counted.add(`${field}|${way}`)
      const { ways } = this.#field(field)
      const known = ways.get(way) ?? { element, rung, count: 0 }
      ways.set(way, known)
      known.count++
    }
    for (const { field, resource } of trail.unreadable) {
      const { unreadable } = this.#field(field)
      unreadable.count++
      keepExample(unreadable.examples, ownKey(resource))
    }
    for (const { kind, resources } of trail.contradictions)
      tell(this.contradictions, kind, ownKey(resources[0] ?? {}) ?? record.procedure)
    for (const { kind, resource } of trail.doubts) tell(this.doubts, kind, ownKey(resource ?? {}) ?? record.procedure)
  }

  #addField(record: Colonoscopy, name: FieldName, { of }: Field): void {
    const value: unknown = record[name]
    const total = this.#field(name)
    total.of++
    if (value !== undefined) total.recorded++
    if (of === undefined || !Array.isArray(value)) return
    for (const element of value as readonly Readonly<Record<string, unknown>>[])
      for (const inner of Object.keys(of)) {
        const one = this.#field(`${name}.${inner}`)
        one.of++
        if (element[inner] !== undefined) one.recorded++
      }
  }

  #field(name: string): FieldTotal {
    const known = this.fields.get(name)
    if (known) return known
    const total = emptyTotal()
    this.fields.set(name, total)
    return total
  }
}

const emptyTotal = (): FieldTotal => ({ recorded: 0, of: 0, unreadable: { count: 0, examples: [] }, ways: new Map() })

function addAll<Item>(set: Set<Item> = new Set(), more: Iterable<Item>): Set<Item> {
  for (const one of more) set.add(one)
  return set
}

const talliedKeys = (keys: readonly string[]): Tallied => ({
  count: keys.length,
  examples: keys.filter((key) => key.includes('/')).slice(0, examplesKept),
})

function tell(map: Map<string, Tallied>, what: string, reference: string): void {
  const known = map.get(what) ?? { count: 0, examples: [] }
  map.set(what, known)
  known.count++
  keepExample(known.examples, reference)
}

function keepExample(examples: string[], reference: string | undefined): void {
  if (reference !== undefined && examples.length < examplesKept && !examples.includes(reference))
    examples.push(reference)
}
