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
export function attribute(examination: Examination, resources: Resources, codes: Codes, source: Source): Attribution {
  let operator: Performer | undefined
  let supervisor: Performer | undefined
  const plain: string[] = []
  for (const procedure of examination.all)
    for (const performer of asObjects(procedure.performer)) {
      const person = personKey(performer.actor, resources, source)
      if (person === undefined) continue
      const role = codes.fact(performer.function)
      if (role === 'operator' || role === 'operator-in-training') operator ??= { person, role }
      else if (role === 'supervisor-in-room' || role === 'supervisor-not-in-room') supervisor ??= { person, role }
      else if (!plain.includes(person)) plain.push(person)
    }
  const key = operator?.person ?? (plain.length > 0 ? only(plain) : participant(examination, resources, source))
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
function participant(examination: Examination, resources: Resources, source: Source): string | undefined {
  const people = (list: readonly Json[]) => [
    ...new Set(
      list.map(({ individual }) => personKey(individual, resources, source)).filter((key) => key !== undefined),
    ),
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

/**
 * Key of the person behind a reference: identifier system and value where the source names such a system, else source and id;
 * never the name. Organisations, devices and display-only references are nobody.
 */
export function personKey(reference: unknown, resources: Resources, source: Source): string | undefined {
  const actor = asObject(reference)
  if (actor === undefined) return undefined
  const key = referenceKey(actor)
  if (key?.startsWith('PractitionerRole/')) {
    const person = asObject(resources.at(key)?.practitioner)
    // A role that points to a role is malformed; following it could go round for ever.
    return referenceKey(person)?.startsWith('PractitionerRole/') ? undefined : personKey(person, resources, source)
  }
  if (key?.startsWith('Practitioner/')) {
    const identifier = asObjects(resources.at(key)?.identifier).find(
      ({ system }) => source.practitionerSystem !== undefined && system === source.practitionerSystem,
    )
    const value = asText(identifier?.value)
    return value === undefined ? `${source.id}/${key}` : `${source.practitionerSystem}|${value}`
  }
  if (key !== undefined) return undefined
  const stated = asText(actor.type)
  const identifier = referencedIdentifier(actor)
  const isPerson =
    stated === undefined
      ? /^Practitioner\?/.test(asText(actor.reference) ?? '') || actor.reference === undefined
      : stated === 'Practitioner'
  return identifier && isPerson ? `${identifier.system}|${identifier.value}` : undefined
}
