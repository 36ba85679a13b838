import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { readById } from './named.ts'
import { parseReference, type Resource, referencesAt } from './references.ts'

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
  const { baseUrl } = connection.source
  const here = (resource: Resource, element: string): string[] =>
    referencesAt(resource, element).flatMap((reference) => {
      const target = parseReference(reference, baseUrl)
      return target?.here && target.key.startsWith('Patient/') ? [target.key] : []
    })
  const procedures = collected.resources.all().filter(({ resourceType }) => resourceType === 'Procedure')
  const known = new Set<string>()
  let next = procedures.flatMap((procedure) => here(procedure, 'subject'))
  for (let step = 0; step <= mostMerges; step += 1) {
    const unread = [...new Set(next)].filter((key) => !known.has(key)).sort()
    if (unread.length === 0) break
    for (const key of unread) known.add(key)
    await readById(connection, collected, 'Patient', unread)
    next = unread.flatMap((key) => {
      const patient = collected.resources.get(key)
      return patient ? here(patient, 'link') : []
    })
  }
  return [...known].sort()
}
