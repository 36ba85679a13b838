import { batches } from './batches.ts'
import { type Examined, readByDay } from './by-day.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { idsPerList, pointsAt, readAll } from './reading.ts'
import { targetsAt } from './references.ts'
import type { Query } from './search.ts'
import { refusalOf } from './spared.ts'

/**
 * Reads the drugs that were given: by the examinations' encounters (R4 has no search by the procedure a drug was part of), and by
 * patient and the days of the examination. Always both ways: an encounter that brings a drug of the ward may not bring those of
 * the examination.
 */
export async function readMedications(connection: Connection, collected: Collected, examined: Examined): Promise<void> {
  const encounters = examined.examinations.flatMap((row) => targetsAt(row, 'encounter', 'Encounter'))
  const rest = `${connection.source.baseUrl}/MedicationAdministration?context=&_count=${connection.pageSize}`.length
  const byContext = batches(new Set(encounters.sort()), rest, idsPerList).map((list): Query => {
    const wanted = new Set(list)
    return {
      resourceType: 'MedicationAdministration',
      parameters: { context: list.join(',') },
      allows: (row) => pointsAt(row, 'context', wanted),
    }
  })
  await readAll(connection, collected, byContext, {
    asked: 'MedicationAdministration by context',
    refusalIn: 'notes',
    consequence: 'It was searched by patient instead.',
  })
  await readByDay(
    connection,
    collected,
    examined,
    {
      resourceType: 'MedicationAdministration',
      parameter: 'effective-time',
      elements: ['effectiveDateTime', 'effectivePeriod'],
    },
    refusalOf('medication', connection.source),
  )
}
