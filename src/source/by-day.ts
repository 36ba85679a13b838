import { addDays } from '../fhir/dates.ts'
import { batches } from './batches.ts'
import type { Collected, Reading } from './collected.ts'
import type { Connection } from './connection.ts'
import type { Patients } from './patients.ts'
import { idsPerList, pointsAt, readAll } from './reading.ts'
import { type Resource, targetsAt } from './references.ts'
import type { Query } from './search.ts'
import { touches } from './spans.ts'
import { beganOn, hasCode } from './wide-window.ts'

/** A reading of what is told of a patient on the day of an examination, and names neither it nor its encounter. */
export interface ByDay {
  readonly resourceType: string
  /** Date parameter, and the elements it means. */
  readonly parameter: string
  readonly elements: readonly string[]
  /** Only with one of these codes; any by default. */
  readonly codes?: readonly string[]
}

/** Whose days are read. */
export interface Examined {
  readonly examinations: readonly Resource[]
  readonly patients: Patients
}

/** Civil dates, both inclusive. */
interface Stay {
  readonly first: string
  readonly last: string
}

/**
 * Reads records of one kind by patient and the days of the examinations, one more on each side, under every record of a person.
 *
 * @param refusal how a refusal is told
 */
export async function readByDay(
  connection: Connection,
  collected: Collected,
  { examinations, patients }: Examined,
  byDay: ByDay,
  refusal: Partial<Reading>,
): Promise<void> {
  const { resourceType, parameter, elements, codes } = byDay
  const days = daysByPatient(examinations, patients)
  const isOfItsDays = (row: Resource): boolean => {
    const stays = targetsAt(row, 'subject', 'Patient').flatMap((key) => days.get(key) ?? [])
    return stays.some(({ first, last }) => touches(row, elements, first, last))
  }
  await readAll(connection, collected, queriesOf(connection, byDay, days), {
    asked: `${resourceType} by ${['patient', parameter, ...(codes ? ['code'] : [])].join(' and ')}`,
    // What a patient is told of on the days of the others of the same query belongs to no examination.
    place: (row) => (row.resourceType !== resourceType || isOfItsDays(row) ? 'followed' : 'left'),
    ...refusal,
  })
}

/** Days that are wanted of each record of everybody who was examined. */
function daysByPatient(examinations: readonly Resource[], patients: Patients): Map<string, Stay[]> {
  const days = new Map<string, Stay[]>()
  for (const examination of examinations) {
    const began = beganOn(examination)
    // One without a date is not counted, so nothing need be known of it; one of a month or a year is, in a period that holds it.
    if (!began) continue
    const stay = { first: addDays(began.low, -1), last: addDays(began.high, 1) }
    for (const record of patients.recordsOf(examination)) days.set(record, [...(days.get(record) ?? []), stay])
  }
  return days
}

/** Patients who were examined at about the same time are asked for together, so that few days are read for each. */
function queriesOf(connection: Connection, byDay: ByDay, days: ReadonlyMap<string, readonly Stay[]>): Query[] {
  const { resourceType, parameter, elements, codes } = byDay
  const boundsOf = (keys: readonly string[]): Stay => {
    const stays = keys.flatMap((key) => days.get(key) ?? [])
    const [first = ''] = stays.map((stay) => stay.first).sort()
    const last = stays.map((stay) => stay.last).sort()
    return { first, last: last.at(-1) ?? '' }
  }
  const order = (key: string): string => `${boundsOf([key]).first} ${key}`
  const keys = [...days.keys()].sort((one, other) => (order(one) < order(other) ? -1 : 1))
  const dates = `${parameter}=ge2000-01-01&${parameter}=lt2000-01-01`
  const address = `${connection.source.baseUrl}/${resourceType}?patient=&${dates}&_count=${connection.pageSize}`
  // Codes take some two thirds of an address, so that all that are published fit one list and ids have room beside them.
  const codeLists = codes ? batches(codes, 550, Number.POSITIVE_INFINITY) : [undefined]
  return codeLists.flatMap((list) => {
    const code = list?.join(',')
    const wantedCodes = list && new Set(list)
    const rest = address.length + (code === undefined ? 0 : `&code=${encodeURIComponent(code)}`.length)
    return batches(keys, rest, idsPerList).map((ids): Query => {
      const wanted = new Set(ids)
      const { first, last } = boundsOf(ids)
      return {
        resourceType,
        parameters: {
          patient: ids.join(','),
          [parameter]: [`ge${first}`, `lt${addDays(last, 1)}`],
          ...(code !== undefined && { code }),
        },
        allows: (row) =>
          pointsAt(row, 'subject', wanted) &&
          touches(row, elements, first, last) &&
          (wantedCodes === undefined || hasCode(row, wantedCodes)),
      }
    })
  })
}
