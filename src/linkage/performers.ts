import type { Source } from '../config.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import { isWord } from '../record/words.ts'
import { containedIn } from './contained.ts'
import type { Examination } from './examinations.ts'
import type { PersonKey } from './person-key.ts'
import type { Reading } from './reading.ts'

export const performerRoles = [
  'operator',
  'operator-in-training',
  'supervisor-in-room',
  'supervisor-not-in-room',
  'anaesthetist',
] as const
export type PerformerRole = (typeof performerRoles)[number]

/** One performer of one Procedure resource. */
export interface Performer {
  /** Undefined for nobody: an organisation, a name alone, a person inside the procedure without an identifier. */
  readonly person: string | undefined
  /** Undefined where no function is stated, or none that we know. */
  readonly role: PerformerRole | undefined
  /** A function is stated that nobody knows here: it may be any, and is not the same as none. */
  readonly isOfUnknownFunction: boolean
  /** Has no key, but may well be a person of flesh and blood. */
  readonly isNameless: boolean
  readonly procedure: Json
}

export const isOperator = ({ role }: Performer): boolean => role === 'operator' || role === 'operator-in-training'
export const isSupervisor = ({ role }: Performer): boolean =>
  role === 'supervisor-in-room' || role === 'supervisor-not-in-room'

/** Every performer of an examination, from all its Procedure resources. */
export function readPerformers(
  { all, patient, trail }: Examination,
  { codes, resources, source, survey }: Reading,
  personKey: PersonKey,
): readonly Performer[] {
  const performers: Performer[] = []
  for (const procedure of all)
    for (const { actor, function: stated } of asObjects(procedure.performer)) {
      const fact = codes.fact(stated)
      const role = isWord(fact, performerRoles) ? fact : undefined
      const person = personKey(actor, procedure)
      performers.push({
        person,
        role,
        isOfUnknownFunction: role === undefined && isStated(stated),
        isNameless: person === undefined && mayBePerson(actor, procedure),
        procedure,
      })
      if (survey === undefined) continue
      if (role === undefined) survey.missed('Procedure.performer.function', stated, patient)
      const target = referenceKey(actor)
      if (target?.startsWith('Practitioner') && resources.at(target) === undefined)
        survey.deadEnd('Procedure.performer.actor', procedure)
      else if (isByResource(person, source))
        trail?.doubt('person without an identifier of the configured system', resources.at(target))
    }
  return performers
}

/** Code systems of HL7 whose codes say that nothing is said. */
const ofNothing = /(?:v3-NullFlavor|data-absent-reason)$/

/** Whether a concept says anything, by a code or in words. */
function isStated(concept: unknown): boolean {
  const { coding, text } = asObject(concept) ?? {}
  const codings = asObjects(coding)
  const says = ({ system, code, display }: Json): boolean =>
    !ofNothing.test(asText(system) ?? '') && (asText(code) ?? asText(display)) !== undefined
  return codings.some(says) || (codings.length === 0 && asText(text) !== undefined)
}

/** Whether the key of a person is that of a resource, though the source names a system of identifiers. */
const isByResource = (person: string | undefined, { id, practitionerSystem }: Source): boolean =>
  practitionerSystem !== undefined && person?.startsWith(`${id}/Practitioner/`) === true

/** Types of those who may be named as performers, and perform no colonoscopy. */
const neverOperates = /Organization|Device|Patient|RelatedPerson|CareTeam|HealthcareService/

function mayBePerson(reference: unknown, holder: Json): boolean {
  const actor = asObject(reference)
  if (actor === undefined) return false
  const written = asText(actor.reference) ?? asText(actor.display) ?? asText(asObject(actor.identifier)?.value)
  const type = asText(actor.type) ?? asText(containedIn(holder, actor)?.resourceType) ?? asText(actor.reference) ?? ''
  return written !== undefined && !neverOperates.test(type)
}

/** The only person among performers of one function; two are a doubt, and nobody is chosen. */
export function onlyPerson(performers: readonly Performer[], { trail }: Examination): string | undefined {
  let only: string | undefined
  for (const { person, procedure } of performers) {
    if (person === undefined || person === only) continue
    if (only !== undefined) {
      trail?.doubt('two persons with the function of one', procedure)
      return undefined
    }
    only = person
  }
  return only
}
