import { asObjects, type Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import { onlyPerson, type Performer } from './performers.ts'
import type { PersonKey } from './person-key.ts'
import type { Reading } from './reading.ts'

/**
 * Key of the operator. Ladder: performers with an operator's function; the only person among performers without one; the
 * encounter's only performing participant. Two persons on one rung are neither split nor doubled: unattributed, and so is an
 * operator of whom only a name is known. A supervisor or an anaesthetist is never the operator.
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
  const others = new Set(performers.flatMap(({ person, role }) => (role !== undefined && person ? [person] : [])))
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
 * without a type.
 *
 * @param others people whose function in the examination is another
 */
function participantOf(
  { stays, trail, patient }: Examination,
  { codes, resources, survey }: Reading,
  personKey: PersonKey,
  others: ReadonlySet<string>,
): string | undefined {
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
  if (more.length > 0) trail?.doubt('two performers without a function', encounter)
  else trail?.note('operator', encounter, 'shared encounter', 'Encounter.participant')
  return more.length > 0 ? undefined : person
}
