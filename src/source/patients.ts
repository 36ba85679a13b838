import { asObjects, type Json } from '../fhir/json.ts'
import { patientIdentifier, referenceKey } from '../fhir/references.ts'
import { batches } from './batches.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { readById } from './named.ts'
import { idsPerList, readAll } from './reading.ts'
import { type Resource, targetsAt } from './references.ts'
import type { Query } from './search.ts'

/** Records of one person that may hang in a row, each merged into the next. */
const mostMerges = 5

/** The people whose procedures were gathered. */
export interface Patients {
  /** Keys of all their records, merged ones included, as Patient/id, in order. */
  readonly keys: readonly string[]
  /** Every record of the person whom a procedure is of, so far as it was read; none where nobody can be told. */
  recordsOf(procedure: Resource): readonly string[]
}

/**
 * Reads the patients of the gathered procedures, and every other record of the same people that `Patient.link` names: after
 * a merge what belongs to one person may be filed under several records, and a rival under the other one must be found
 * whichever window is read. A link that only the other record carries is not found.
 *
 * A patient who is named by an identifier alone is looked up by it. Whom no record or the records of several people carry is
 * told in `incomplete`, since nothing can be read by such a patient.
 */
export async function readPatients(connection: Connection, collected: Collected): Promise<Patients> {
  const procedures = collected.resources.all().filter(({ resourceType }) => resourceType === 'Procedure')
  await readByIdentifier(connection, collected, procedures)
  const known = new Set<string>()
  let next = [
    ...procedures.flatMap((procedure) => targetsAt(procedure, 'subject', 'Patient')),
    ...patientsIn(collected),
  ]
  for (let step = 0; step <= mostMerges; step += 1) {
    const unread = [...new Set(next)].filter((key) => !known.has(key)).sort()
    if (unread.length === 0) break
    for (const key of unread) known.add(key)
    await readById(
      connection,
      collected,
      'Patient',
      unread.filter((key) => !collected.resources.has(key)),
    )
    next = unread.flatMap((key) => linkedTo(collected, key))
  }
  const carriers = carriersOf(collected, known)
  const merged = mergedRecords(collected, known)
  const recordsOf = (procedure: Resource): string[] => {
    const literal = targetsAt(procedure, 'subject', 'Patient')
    if (literal.length > 0) return withMerged(literal, merged)
    const identifier = patientIdentifier(procedure.subject)
    const [first, ...others] = (identifier && carriers.get(nameOf(identifier))) ?? []
    if (first === undefined) return []
    const records = withMerged([first], merged)
    return others.every((other) => records.includes(other)) ? records : []
  }
  const named = procedures.filter(isByIdentifier)
  const unknown = named.filter((procedure) => recordsOf(procedure).length === 0).length
  if (unknown > 0)
    collected.incomplete.add(
      `Source ${connection.source.id}: ${unknown} colonoscopies name their patient by an identifier alone that no patient’s record carries, or those of several people; nothing that is filed under the patient was read for them.`,
    )
  if (named.length > unknown)
    collected.notes.add(
      `Source ${connection.source.id}: ${named.length - unknown} colonoscopies name their patient by an identifier alone; what is filed under the patient in the same way cannot be searched by patient and was not read.`,
    )
  return { keys: [...known].sort(), recordsOf }
}

const isByIdentifier = (procedure: Resource): boolean =>
  targetsAt(procedure, 'subject', 'Patient').length === 0 && patientIdentifier(procedure.subject) !== undefined

const nameOf = ({ system, value }: Json): string => `${String(system)}|${String(value)}`

async function readByIdentifier(
  connection: Connection,
  collected: Collected,
  procedures: readonly Resource[],
): Promise<void> {
  const tokens = new Map<string, string>()
  for (const procedure of procedures) {
    const identifier = isByIdentifier(procedure) ? patientIdentifier(procedure.subject) : undefined
    if (identifier) tokens.set(`${escaped(identifier.system)}|${escaped(identifier.value)}`, nameOf(identifier))
  }
  const rest = `${connection.source.baseUrl}/Patient?identifier=&_count=${connection.pageSize}`.length
  const queries = batches([...tokens.keys()].sort(), rest, idsPerList).map((list): Query => {
    const wanted = new Set(list.map((token) => tokens.get(token)))
    return {
      resourceType: 'Patient',
      parameters: { identifier: list.join(',') },
      allows: (patient) => asObjects(patient.identifier).some((one) => wanted.has(nameOf(one))),
    }
  })
  await readAll(connection, collected, queries, { asked: 'Patient by identifier' })
}

/** FHIR R4 search, Escaping Search Parameters: these four are escaped where they belong to a value. */
const escaped = (text: string): string => text.replace(/[\\$,|]/g, '\\$&')

const patientsIn = (collected: Collected): string[] =>
  collected.resources
    .all()
    .flatMap(({ resourceType, id }) => (resourceType === 'Patient' ? [`Patient/${String(id)}`] : []))

/** Records that carry each identifier. */
function carriersOf(collected: Collected, keys: Iterable<string>): Map<string, string[]> {
  const carriers = new Map<string, string[]>()
  for (const key of keys)
    for (const identifier of asObjects(collected.resources.get(key)?.identifier)) {
      const name = nameOf(identifier)
      carriers.set(name, [...(carriers.get(name) ?? []), key])
    }
  return carriers
}

function linkedTo(collected: Collected, key: string): string[] {
  const patient = collected.resources.get(key)
  return patient ? targetsAt(patient, 'link', 'Patient') : []
}

/** Records that are one person's after a merge, whichever of them says so; other links lead to records that stand apart. */
function mergedRecords(collected: Collected, keys: Iterable<string>): Map<string, string[]> {
  const merged = new Map<string, string[]>()
  const add = (key: string, other: string) => merged.set(key, [...(merged.get(key) ?? []), other])
  for (const key of keys)
    for (const { type, other } of asObjects(collected.resources.get(key)?.link)) {
      const target = type === 'replaces' || type === 'replaced-by' ? referenceKey(other) : undefined
      if (target === undefined) continue
      add(key, target)
      add(target, key)
    }
  return merged
}

/** Records and every other one of the same people, of those that were read. */
function withMerged(keys: readonly string[], merged: ReadonlyMap<string, readonly string[]>): string[] {
  const known = new Set(keys)
  // A set hands out what is added to it on the way.
  for (const one of known) for (const other of merged.get(one) ?? []) known.add(other)
  return [...known]
}
