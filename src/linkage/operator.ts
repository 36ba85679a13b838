import { asObjects, type Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import { dateIn, voided } from './gathering.ts'
import { isOfOneVisit } from './one-visit.ts'
import { onlyPerson, type Performer } from './performers.ts'
import type { PersonKey } from './person-key.ts'
import type { Performed, Reading } from './reading.ts'

/**
 * Key of the operator. Ladder: performers with an operator's function; the only person among performers without one; the only
 * performing participant of an encounter in which nothing else was done. Two persons on one rung are neither split nor doubled:
 * unattributed, and so is an operator of whom only a name is known. A supervisor or an anaesthetist is never the operator; who
 * has a function that nobody knows here is not taken for one, and may be one: beside them, nobody without a function is.
 */
export function operatorOf(
  performers: readonly Performer[],
  operators: readonly Performer[],
  examination: Examination,
  reading: Reading,
  personKey: PersonKey,
): string | undefined {
  const { trail } = examination
  const named = operators.find(({ person }) => person !== undefined)
  if (named !== undefined) {
    const operator = onlyPerson(operators, examination)
    if (operator !== undefined) trail?.note('operator', named.procedure, 'own element', 'Procedure.performer.function')
    return operator
  }
  const others = new Set(
    performers.flatMap(({ person, role, isOfUnknownFunction }) =>
      person !== undefined && (role !== undefined || isOfUnknownFunction) ? [person] : [],
    ),
  )
  const unknown = operators.length > 0 ? undefined : performers.find((one) => one.isOfUnknownFunction)
  if (unknown !== undefined) {
    trail?.doubt('performer whose function nobody knows', unknown.procedure)
    return undefined
  }
  // Where somebody without a name is said to have operated, the others only helped.
  const plain = operators.length > 0 ? [] : performers.filter((one) => isPlain(one, others))
  const [first, ...more] = plain
  if (first !== undefined) {
    if (more.some(({ person }) => person !== first.person) || hasNamelessPeer(first, performers)) {
      trail?.doubt('two performers without a function', first.procedure)
      return undefined
    }
    trail?.note('operator', first.procedure, 'own element', 'Procedure.performer')
    return first.person
  }
  const participant = participantOf(examination, reading, personKey, others)
  if (participant === undefined && performers.some((one) => one.person === undefined && one.role !== 'anaesthetist'))
    trail?.doubt('performer who is nobody: an organisation, or a name without an identity', examination.lead)
  return participant
}

const isPlain = ({ person, role }: Performer, others: ReadonlySet<string>): boolean =>
  role === undefined && person !== undefined && !others.has(person)

/** Whether the same resource names a second performer without a function, of whom only the name is known. */
const hasNamelessPeer = ({ procedure }: Performer, performers: readonly Performer[]): boolean =>
  performers.some((one) => one.isNameless && one.role === undefined && one.procedure === procedure)

/** Roles of R4's participation types that are no primary performer's, as far as they are met in encounters. */
const otherRoles: ReadonlySet<unknown> = new Set(
  'ADM ATND CALLBCK CON CST DIS ESC REF SPRF PART translator emergency'.split(' '),
)
const isOfRole = (type: Json): boolean =>
  asObjects(type.coding).some(({ code }) => code === 'PPRF' || otherRoles.has(code))

/**
 * The only participant of the examination's encounters who may have operated: those typed as primary performers first, then those
 * without a type. Where another procedure shares an encounter, its participants may be that one's, unless it was done in the same
 * visit.
 *
 * @param others people whose function in the examination is another
 */
function participantOf(
  examination: Examination,
  reading: Reading,
  personKey: PersonKey,
  others: ReadonlySet<string>,
): string | undefined {
  const { stays, trail, patient } = examination
  const { codes, resources, survey } = reading
  const performing = new Map<string, Json>()
  const untyped = new Map<string, Json>()
  const isPrimary = (type: Json) =>
    codes.fact(type) === 'operator' || asObjects(type.coding).some(({ code }) => code === 'PPRF')
  for (const encounter of stays) {
    for (const { individual, type } of asObjects(encounter.participant)) {
      const types = asObjects(type)
      const rung = types.length === 0 ? untyped : types.some(isPrimary) ? performing : undefined
      if (types.length > 0 && types.every((one) => codes.of(one) === unknownMeaning && !isOfRole(one)))
        for (const one of types) survey?.missed('Encounter.participant.type', one, patient)
      const target = referenceKey(individual)
      if (survey && rung && target !== undefined && resources.at(target) === undefined)
        survey.deadEnd('Encounter.participant.individual', encounter)
      const person = rung && personKey(individual, encounter)
      if (person !== undefined && !others.has(person)) rung?.set(person, encounter)
    }
  }
  const [only, ...more] = performing.size > 0 ? performing : untyped
  if (only === undefined) return undefined
  const [person, encounter] = only
  if (isSharedWithAnother(examination, reading)) {
    trail?.doubt('participants of an encounter in which something else was done too', encounter)
    return undefined
  }
  if (more.length > 0) trail?.doubt('two performers without a function', encounter)
  else trail?.note('operator', encounter, 'shared encounter', 'Encounter.participant')
  return more.length > 0 ? undefined : person
}

/**
 * Whether a procedure that is no part of the examination was done in one of its encounters, another colonoscopy included. What
 * was done on the same day of one visit is left aside.
 */
function isSharedWithAnother(examination: Examination, { procedures }: Reading): boolean {
  const { all, children, encounters, span, lastDay, zone } = examination
  const isVisit = isOfOneVisit(examination)
  const isOfVisit = ({ performedPeriod, performedDateTime }: Json): boolean => {
    const date = isVisit ? dateIn(performedPeriod ?? performedDateTime, zone) : undefined
    return date !== undefined && date >= span.first && date <= lastDay
  }
  const own = new Set<Json>(all)
  for (const { resource } of children) own.add(resource)
  const keys = new Set<string | undefined>([...own].map(ownKey))
  const isOwn = (procedure: Json): boolean =>
    own.has(procedure) || keysAt([procedure], 'partOf').some((key) => keys.has(key))
  const byEncounter = proceduresByEncounter(procedures)
  return encounters.some((encounter) =>
    byEncounter
      .get(encounter)
      ?.some((procedure) => !voided.has(procedure.status) && !isOwn(procedure) && !isOfVisit(procedure)),
  )
}

const indexes = new WeakMap<readonly Performed[], ReadonlyMap<string, readonly Json[]>>()

/** A window's procedures by encounter; made once, and only where examinations name no performer. */
function proceduresByEncounter(procedures: readonly Performed[]): ReadonlyMap<string, readonly Json[]> {
  const known = indexes.get(procedures)
  if (known) return known
  const index = new Map<string, Json[]>()
  for (const { resource } of procedures) {
    const encounter = referenceKey(resource.encounter)
    if (encounter === undefined) continue
    const list = index.get(encounter)
    if (list) list.push(resource)
    else index.set(encounter, [resource])
  }
  indexes.set(procedures, index)
  return index
}
