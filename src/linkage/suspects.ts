import type { Codes } from '../fhir/codes.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { containedIn } from './contained.ts'
import type { Resources } from './context.ts'
import type { Examination } from './examinations.ts'
import type { Ladder } from './ladder.ts'

/** What a procedure is that an event names: an examination, certainly another thing, or nobody can tell. */
export type Meant = Examination | 'another' | 'unclear'

export interface Whereabouts {
  readonly resources: Resources
  readonly codes: Codes
  readonly ladder: Ladder
}

const ofTheBowel = ['polypectomy', 'tissue-taken-or-treated', 'tattoo']
const done: ReadonlySet<unknown> = new Set(['completed', 'stopped'])

/** Parts of parts are met; longer chains are loops. */
const longestChain = 4

/** What a procedure is: by itself, else by what it is part of, else by its code. */
export function meantBy(procedure: Json, whereabouts: Whereabouts, chain = longestChain): Meant {
  const { resources, codes, ladder } = whereabouts
  const examination = ladder.direct(ownKey(procedure))
  if (examination !== undefined) return examination
  const { partOf, status, code, performedPeriod, performedDateTime } = procedure
  let meant: Meant | undefined
  for (const reference of asObjects(partOf)) {
    const key = referenceKey(reference)
    const whole = resources.at(key)
    const one = ladder.direct(key) ?? (whole && chain > 0 ? meantBy(whole, whereabouts, chain - 1) : 'unclear')
    if (typeof one === 'object') return one
    if (meant !== 'unclear') meant = one
  }
  if (meant !== undefined) return meant
  if (status === 'not-done') return 'another'
  const { sets } = codes.of(code)
  // A colonoscopy that was done on some day and is no examination here has been left out as what it is, and listed.
  if (sets.has('colonoscopy'))
    return done.has(status) && (performedPeriod ?? performedDateTime) !== undefined ? 'another' : 'unclear'
  return ofTheBowel.some((set) => sets.has(set)) ? 'unclear' : 'another'
}

/** What an adverse event names as its cause. */
export interface Suspected {
  readonly examinations: readonly Examination[]
  /** What it names where none of that is an examination; undefined where it names no procedure at all. */
  readonly other: 'another' | 'unclear' | undefined
  /** A procedure is named that did not come. */
  readonly isLost: boolean
}

/** Reads which procedures an adverse event suspects. A drug or a device may be suspected as well: it tells of no procedure. */
export function suspectedBy(event: Json, whereabouts: Whereabouts): Suspected {
  const examinations = new Set<Examination>()
  let other: Suspected['other']
  let isLost = false
  for (const { instance } of asObjects(event.suspectEntity)) {
    const key = referenceKey(instance)
    const named = containedIn(event, instance) ?? whereabouts.resources.at(key)
    const direct = whereabouts.ladder.direct(key)
    if (direct === undefined && named === undefined && !mayBeProcedure(instance)) continue
    if (named !== undefined && named.resourceType !== 'Procedure') continue
    if (direct === undefined && named === undefined) isLost = true
    const meant = direct ?? (named === undefined ? 'unclear' : meantBy(named, whereabouts))
    if (typeof meant === 'object') examinations.add(meant)
    else if (other !== 'unclear') other = meant
  }
  return { examinations: [...examinations], other, isLost }
}

/** Whether a reference that leads nowhere may name a procedure: it says so, or does not say what it names. */
function mayBeProcedure(instance: unknown): boolean {
  const { type, reference, identifier, display } = asObject(instance) ?? {}
  const written = asText(reference)
  const named = asText(type) ?? /(?:^|\/)([A-Z][A-Za-z]+)\/[^/]+$/.exec(written ?? '')?.[1]
  if (named !== undefined) return named === 'Procedure' || named.endsWith('/Procedure')
  return written !== undefined || identifier !== undefined || display !== undefined
}
