import { addDays } from '../fhir/dates.ts'
import { batches } from './batches.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { type FollowUp, followUps } from './follow-up-table.ts'
import { idsPerList, namesOneOf, pointsAt, readAll } from './reading.ts'
import { type Resource, targetsAt } from './references.ts'
import type { Query } from './search.ts'
import { touches } from './spans.ts'
import { refusalOf } from './spared.ts'
import { hasCode } from './wide-window.ts'

/** How far the follow-up readings go. */
export interface Reach {
  /** First and last civil date of the window as it is read. */
  readonly first: string
  readonly last: string
  /** Codes of operations that matter at any time before the examination. */
  readonly earlierProcedureCodes: readonly string[]
}

/**
 * Reads all that points at the examinations. What the source refuses to search is told in `incomplete` or, where most
 * stores do without it, in `notes`, since the examinations themselves still count.
 * @param patients keys of the patients' records, merged ones included
 */
export async function readFollowUps(
  connection: Connection,
  collected: Collected,
  examinations: readonly Resource[],
  patients: readonly string[],
  reach: Reach,
): Promise<void> {
  const named = (element: string, type: string): string[] =>
    [...new Set(examinations.flatMap((row) => targetsAt(row, element, type)))].sort()
  const keysOf = {
    Procedure: examinations.map((row) => `Procedure/${String(row.id)}`),
    Encounter: named('encounter', 'Encounter'),
    Patient: patients,
    ServiceRequest: named('basedOn', 'ServiceRequest'),
  }
  await Promise.all(
    followUps.map(async (followUp) => {
      const { resourceType, parameter, dated, earlier, rare, place, spared } = followUp
      const asked = `${resourceType} by ${[parameter, dated?.parameter, earlier && 'code'].filter(Boolean).join(' and ')}`
      await readAll(connection, collected, queriesOf(followUp, keysOf[followUp.of], reach, connection), {
        asked,
        ...(place && { place: () => place }),
        ...(rare && { stopsWhenIgnored: rare }),
        ...refusalOf(spared, connection.source),
      })
    }),
  )
}

function queriesOf(followUp: FollowUp, keys: readonly string[], reach: Reach, connection: Connection): Query[] {
  const { resourceType, parameter, element, dated, earlier, rare, rowsPerPage } = followUp
  const { baseUrl } = connection.source
  const last = dated?.days === undefined ? undefined : addDays(reach.last, dated.days)
  const dates = [`ge${reach.first}`, ...(last === undefined ? [] : [`lt${addDays(last, 1)}`])]
  const filter = dated === undefined ? {} : { [dated.parameter]: dates }
  const dateText = dated === undefined ? '' : dates.map((date) => `${dated.parameter}=${date}&`).join('')
  const address = `${baseUrl}/${resourceType}?${parameter}=&${dateText}_count=${connection.pageSize}`
  // Codes take half of an address at most, so that ids have room beside them.
  const codeLists = earlier ? batches(reach.earlierProcedureCodes, 900, Number.POSITIVE_INFINITY) : [undefined]
  return codeLists.flatMap((codes) => {
    const code = codes?.join(',')
    const rest = address.length + (code === undefined ? 0 : `&code=${encodeURIComponent(code)}`.length)
    const wantedCodes = codes && new Set(codes)
    return batches(keys, rest, idsPerList).map((list): Query => {
      const wanted = new Set(list)
      return {
        resourceType,
        parameters: { [parameter]: list.join(','), ...filter, ...(code !== undefined && { code }) },
        ...(rowsPerPage !== undefined && { rowsPerPage }),
        ...(rare && { stopWhenIgnored: rare }),
        allows: (row) =>
          (rare ? namesOneOf(row, element, wanted) : pointsAt(row, element, wanted)) &&
          (dated === undefined || touches(row, dated.elements, reach.first, last)) &&
          (wantedCodes === undefined || hasCode(row, wantedCodes)),
      }
    })
  })
}
