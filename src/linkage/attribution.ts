import type { Source } from '../config.ts'
import type { Codes } from '../fhir/codes.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { referencedIdentifier, referenceKey } from '../fhir/references.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Resources } from './context.ts'
import type { Examination } from './examinations.ts'

type Attribution = Pick<Colonoscopy, 'operator' | 'operatorRole' | 'supervisor' | 'supervisorInRoom'>

/**
 * Who performed an examination. Ladder: performers with a stated function; the only person among performers without one;
 * the encounter's only performing participant. Two persons without functions are neither split nor doubled: unattributed.
 */
export function attribute(
  examination: Examination,
  resources: Resources,
  codes: Codes,
  personKey: PersonKey,
): Attribution {
  let operator: Performer | undefined
  let supervisor: Performer | undefined
  const plain: string[] = []
  for (const procedure of examination.all)
    for (const performer of asObjects(procedure.performer)) {
      const person = personKey(performer.actor)
      if (person === undefined) continue
      const role = codes.fact(performer.function)
      if (role === 'operator' || role === 'operator-in-training') operator ??= { person, role }
      else if (role === 'supervisor-in-room' || role === 'supervisor-not-in-room') supervisor ??= { person, role }
      else if (!plain.includes(person)) plain.push(person)
    }
  const key = operator?.person ?? (plain.length > 0 ? only(plain) : participant(examination, resources, personKey))
  return {
    operator: key,
    operatorRole: operator && (operator.role === 'operator' ? 'independent' : 'trainee'),
    supervisor: supervisor?.person,
    supervisorInRoom: supervisor && supervisor.role === 'supervisor-in-room',
  }
}

interface Performer {
  readonly person: string
  readonly role: string
}

const only = (people: readonly string[]): string | undefined => (people.length === 1 ? people[0] : undefined)

/** The encounter's only participant, those typed as primary performer first. */
function participant(examination: Examination, resources: Resources, personKey: PersonKey): string | undefined {
  const people = (list: readonly Json[]) => [
    ...new Set(list.map(({ individual }) => personKey(individual)).filter((key) => key !== undefined)),
  ]
  for (const encounter of examination.encounters) {
    const participants = asObjects(resources.at(encounter)?.participant)
    const performing = people(participants.filter(({ type }) => asObjects(type).some(isPrimaryPerformer)))
    if (performing.length === 1) return performing[0]
    if (performing.length > 1) return undefined
    const untyped = people(participants.filter(({ type }) => asObjects(type).length === 0))
    if (untyped.length === 1) return untyped[0]
  }
  return undefined
}

const isPrimaryPerformer = (type: Json): boolean => asObjects(type.coding).some(({ code }) => code === 'PPRF')

/** Key of the person behind a reference; undefined for nobody. */
export type PersonKey = (reference: unknown) => string | undefined

/**
 * Keys of a window's people: identifier system and value where the source names such a system, else source and id; never the
 * name. Organisations, devices and display-only references are nobody. A few people perform everything, so each is worked
 * out once.
 */
export function personKeys(resources: Resources, source: Source): PersonKey {
  const known = new Map<string, string | undefined>()
  return (reference) => {
    const actor = asObject(reference)
    if (actor === undefined) return undefined
    const target = referenceKey(actor)
    if (target === undefined) return logicalPerson(actor)
    if (!known.has(target)) known.set(target, personAt(target, resources, source))
    return known.get(target)
  }
}

function personAt(target: string, resources: Resources, source: Source): string | undefined {
  // A role leads to its person; a role that leads to a role is malformed, and leads nowhere.
  const person = target.startsWith('PractitionerRole/') ? asObject(resources.at(target)?.practitioner) : undefined
  const key = person === undefined ? target : referenceKey(person)
  if (key === undefined) return person && logicalPerson(person)
  if (!key.startsWith('Practitioner/')) return undefined
  const { practitionerSystem } = source
  const identifier =
    practitionerSystem === undefined
      ? undefined
      : asObjects(resources.at(key)?.identifier).find(({ system }) => system === practitionerSystem)
  const value = asText(identifier?.value)
  return value === undefined ? `${source.id}/${key}` : `${practitionerSystem}|${value}`
}

/** A person named by an identifier instead of a resource. */
function logicalPerson(actor: Json): string | undefined {
  const stated = asText(actor.type)
  const isPerson =
    stated === undefined
      ? /^Practitioner\?/.test(asText(actor.reference) ?? '') || actor.reference === undefined
      : stated === 'Practitioner'
  const identifier = referencedIdentifier(actor)
  return identifier && isPerson ? `${identifier.system}|${identifier.value}` : undefined
}
