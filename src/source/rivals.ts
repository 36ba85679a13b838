import { addDays } from '../fhir/dates.ts'
import { batches } from './batches.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { idsPerList, pointsAt, readAll } from './reading.ts'
import type { Query } from './search.ts'
import { hasCode, type WideWindow } from './wide-window.ts'

/** Days on each side within which another colonoscopy may rival for a report or an event: the longest event window. */
const longestEventWindow = 60

/**
 * Reads the other colonoscopies of the window's patients, as far on both sides as a pathology report may lag or an event may
 * follow: without them a late report or event would be given to the wrong examination, or to two. Their other procedures
 * of that time, such as a later operation, come with them and are kept beside.
 *
 * @param patients keys of their records, merged ones included
 */
export async function readRivals(
  connection: Connection,
  collected: Collected,
  patients: readonly string[],
  wide: WideWindow,
): Promise<void> {
  const { source, pageSize } = connection
  const days = Math.max(longestEventWindow, source.pathologyLagDays)
  const from = `ge${addDays(wide.first, -days)}`
  const until = `lt${addDays(wide.last, days + 1)}`
  const rest = `${source.baseUrl}/Procedure?patient=&date=${from}&date=${until}&_count=${pageSize}`.length
  const queries = batches(patients, rest, idsPerList).map((keys): Query => {
    const wanted = new Set(keys)
    return {
      resourceType: 'Procedure',
      parameters: { patient: keys.join(','), date: [from, until] },
      allows: (row) => pointsAt(row, 'subject', wanted),
    }
  })
  await readAll(connection, collected, queries, {
    asked: 'Procedure by patient and date',
    place: (row) => (hasCode(row, wide.codes) ? 'followed' : 'beside'),
  })
}
