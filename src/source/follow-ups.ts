import { batches } from './batches.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { parseReference, type Resource, referencesAt } from './references.ts'
import { type Query, search } from './search.ts'

/** A reading of everything that points at the examinations, their encounters or their patients. */
interface FollowUp {
  readonly resourceType: string
  readonly parameter: string
  /** Type of the resources whose ids are listed in the parameter. */
  readonly of: 'Procedure' | 'Encounter' | 'Patient'
  /** Element that holds the reference, to check what came. */
  readonly element: string
  /** Date parameter by which records from before the window are left aside. */
  readonly since?: string
}

const followUps: readonly FollowUp[] = [
  { resourceType: 'Procedure', parameter: 'part-of', of: 'Procedure', element: 'partOf' },
  { resourceType: 'Procedure', parameter: 'encounter', of: 'Encounter', element: 'encounter' },
  { resourceType: 'Observation', parameter: 'part-of', of: 'Procedure', element: 'partOf' },
  { resourceType: 'Observation', parameter: 'encounter', of: 'Encounter', element: 'encounter' },
  { resourceType: 'DiagnosticReport', parameter: 'encounter', of: 'Encounter', element: 'encounter' },
  // Twice, as a report may carry either date alone and a search by one passes over the other.
  { resourceType: 'DiagnosticReport', parameter: 'patient', of: 'Patient', element: 'subject', since: 'date' },
  { resourceType: 'DiagnosticReport', parameter: 'patient', of: 'Patient', element: 'subject', since: 'issued' },
  { resourceType: 'Specimen', parameter: 'patient', of: 'Patient', element: 'subject' },
  { resourceType: 'Condition', parameter: 'patient', of: 'Patient', element: 'subject' },
  { resourceType: 'AdverseEvent', parameter: 'subject', of: 'Patient', element: 'subject' },
]

/** Ids per comma list: many servers take a few dozen at most, some cut longer lists in silence. */
export const idsPerList = 25

/**
 * Reads all that points at the examinations. What the source refuses to search is told in `incomplete`, since the
 * examinations themselves still count.
 * @param patients keys of the patients' records, merged ones included
 * @param since first civil date of the records that depend on a date
 */
export async function readFollowUps(
  connection: Connection,
  collected: Collected,
  examinations: readonly Resource[],
  patients: readonly string[],
  since: string,
): Promise<void> {
  const { baseUrl } = connection.source
  const targets = (element: string, type: string): string[] => {
    const references = examinations.flatMap((row) => referencesAt(row, element))
    const parsed = references.map((reference) => parseReference(reference, baseUrl))
    const keys = parsed.flatMap((target) => (target?.here && target.key.startsWith(`${type}/`) ? [target.key] : []))
    return [...new Set(keys)].sort()
  }
  const keysOf = {
    Procedure: examinations.map((row) => `Procedure/${String(row.id)}`),
    Encounter: targets('encounter', 'Encounter'),
    Patient: patients,
  }
  const read = async (followUp: FollowUp): Promise<void> => {
    const { resourceType, parameter, element } = followUp
    const asked = `${resourceType} by ${parameter}${followUp.since ? ` and ${followUp.since}` : ''}`
    const rest = `${baseUrl}/${resourceType}?${parameter}=&${followUp.since}=ge${since}&_count=${connection.pageSize}`
      .length
    const queries = batches(keysOf[followUp.of], rest, idsPerList).map((keys): Query => {
      const wanted = new Set(keys)
      return {
        resourceType,
        parameters: { [parameter]: keys.join(','), ...(followUp.since && { [followUp.since]: `ge${since}` }) },
        allows: (row) => pointsAt(row, element, wanted, baseUrl),
      }
    })
    await readAll(connection, collected, asked, queries)
  }
  await Promise.all(followUps.map(read))
}

/** The first query alone, so that a search the server refuses is asked once and not once per batch; then the rest. */
export async function readAll(
  connection: Connection,
  collected: Collected,
  asked: string,
  queries: readonly Query[],
  keep: (row: Resource) => boolean = () => true,
): Promise<void> {
  const [first, ...others] = queries
  if (!first) return
  const found = await search(connection, first)
  collected.take(found, asked, keep)
  if (found.refusal) return
  for (const one of await Promise.all(others.map((query) => search(connection, query))))
    collected.take(one, asked, keep)
}

/** A row whose element names other resources only was not asked for; one that names none may have been matched otherwise. */
export function pointsAt(row: Resource, element: string, keys: ReadonlySet<string>, baseUrl: string): boolean {
  const targets = referencesAt(row, element).flatMap((reference) => parseReference(reference, baseUrl) ?? [])
  return targets.length === 0 || targets.some(({ key }) => keys.has(key))
}
