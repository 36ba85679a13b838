import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { readById } from './named.ts'
import { targetsAt } from './references.ts'

/** Records of one person that may hang in a row, each merged into the next. */
const mostMerges = 5

/**
 * Reads the patients of the gathered procedures, and every other record of the same people that `Patient.link` names: after
 * a merge what belongs to one person may be filed under several records, and a rival under the other one must be found
 * whichever window is read. A link that only the other record carries is not found.
 *
 * @returns the keys of all of them, as Patient/id, in order
 */
export async function readPatients(connection: Connection, collected: Collected): Promise<string[]> {
  const procedures = collected.resources.all().filter(({ resourceType }) => resourceType === 'Procedure')
  const known = new Set<string>()
  let next = procedures.flatMap((procedure) => targetsAt(procedure, 'subject', 'Patient'))
  for (let step = 0; step <= mostMerges; step += 1) {
    const unread = [...new Set(next)].filter((key) => !known.has(key)).sort()
    if (unread.length === 0) break
    for (const key of unread) known.add(key)
    await readById(connection, collected, 'Patient', unread)
    next = unread.flatMap((key) => linkedTo(collected, key))
  }
  return [...known].sort()
}

function linkedTo(collected: Collected, key: string): string[] {
  const patient = collected.resources.get(key)
  return patient ? targetsAt(patient, 'link', 'Patient') : []
}

/** A person's record and every other one that its links lead to, of those that were read. */
export function recordsOf(collected: Collected, key: string): string[] {
  const known = new Set([key])
  // A set hands out what is added to it on the way.
  for (const one of known) for (const other of linkedTo(collected, one)) known.add(other)
  return [...known]
}
