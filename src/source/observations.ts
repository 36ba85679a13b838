import { type Examined, readByDay } from './by-day.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { refusalOf } from './spared.ts'

/**
 * Reads the observations of an examination that name neither it nor its encounter: by patient and day, and by code, as else the
 * whole chart of a ward would come. One whose own code nobody knows is not found so, whatever its components tell.
 *
 * @param codes of observations that tell of an examination
 */
export async function readObservations(
  connection: Connection,
  collected: Collected,
  examined: Examined,
  codes: readonly string[],
): Promise<void> {
  await readByDay(
    connection,
    collected,
    examined,
    {
      resourceType: 'Observation',
      parameter: 'date',
      elements: ['effectiveDateTime', 'effectivePeriod', 'effectiveInstant'],
      codes,
    },
    refusalOf('polyps', connection.source),
  )
}
