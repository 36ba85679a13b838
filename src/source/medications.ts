import { addDays } from '../fhir/dates.ts'
import { batches } from './batches.ts'
import type { Collected } from './collected.ts'
import type { Connection } from './connection.ts'
import { recordsOf } from './patients.ts'
import { idsPerList, pointsAt, readAll } from './reading.ts'
import { type Resource, targetsAt } from './references.ts'
import type { Query } from './search.ts'
import { touches } from './spans.ts'
import { refusalOf } from './spared.ts'
import { beganOn } from './wide-window.ts'

/** Elements of MedicationAdministration.effective[x]. */
const effective = ['effectiveDateTime', 'effectivePeriod']

/**
 * Reads the drugs that were given: by the examinations' encounters (R4 has no search by the procedure a drug was part of)
 * and, for the patients of those examinations whose encounter brought none, by patient and the days of the examination,
 * one more on each side. So a store that writes no encounter, or refuses the search by it, is asked twice and no other.
 */
export async function readMedications(
  connection: Connection,
  collected: Collected,
  examinations: readonly Resource[],
): Promise<void> {
  const encounters = examinations.flatMap((row) => targetsAt(row, 'encounter', 'Encounter'))
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
  const brought = new Set(
    collected.resources
      .all()
      .filter(({ resourceType }) => resourceType === 'MedicationAdministration')
      .flatMap((row) => targetsAt(row, 'context', 'Encounter')),
  )
  const without = examinations.filter(
    (row) => !targetsAt(row, 'encounter', 'Encounter').some((encounter) => brought.has(encounter)),
  )
  const days = daysByPatient(collected, without)
  await readAll(connection, collected, queriesByPatient(connection, days), {
    asked: 'MedicationAdministration by patient and effective-time',
    // What a patient was given on the days of the others of the same query belongs to no examination.
    place: (row) => (row.resourceType !== 'MedicationAdministration' || isOfItsDays(row, days) ? 'followed' : 'left'),
    ...refusalOf('medication', connection.source),
  })
}

interface Stay {
  readonly first: string
  readonly last: string
}

/** Days on which each record's drugs are wanted, of everybody who was examined. */
function daysByPatient(collected: Collected, examinations: readonly Resource[]): Map<string, Stay[]> {
  const days = new Map<string, Stay[]>()
  for (const examination of examinations) {
    const began = beganOn(examination)
    // An examination whose date is coarser than a day is not counted, so nothing need be known of it.
    if (!began || began.low !== began.high) continue
    const stay = { first: addDays(began.low, -1), last: addDays(began.low, 1) }
    for (const patient of targetsAt(examination, 'subject', 'Patient'))
      for (const record of recordsOf(collected, patient)) days.set(record, [...(days.get(record) ?? []), stay])
  }
  return days
}

/** Patients who were examined at about the same time are asked for together, so that few days are read for each. */
function queriesByPatient(connection: Connection, days: ReadonlyMap<string, readonly Stay[]>): Query[] {
  const boundsOf = (keys: readonly string[]): Stay => {
    const stays = keys.flatMap((key) => days.get(key) ?? [])
    return {
      first: stays.map(({ first }) => first).sort()[0] ?? '',
      last:
        stays
          .map(({ last }) => last)
          .sort()
          .at(-1) ?? '',
    }
  }
  const order = (key: string): string => `${boundsOf([key]).first} ${key}`
  const keys = [...days.keys()].sort((one, other) => (order(one) < order(other) ? -1 : 1))
  const rest = `${connection.source.baseUrl}/MedicationAdministration?patient=&effective-time=ge2000-01-01&effective-time=lt2000-01-01&_count=${connection.pageSize}`
  return batches(keys, rest.length, idsPerList).map((list): Query => {
    const wanted = new Set(list)
    const { first, last } = boundsOf(list)
    return {
      resourceType: 'MedicationAdministration',
      parameters: { patient: list.join(','), 'effective-time': [`ge${first}`, `lt${addDays(last, 1)}`] },
      allows: (row) => pointsAt(row, 'subject', wanted) && touches(row, effective, first, last),
    }
  })
}

function isOfItsDays(row: Resource, days: ReadonlyMap<string, readonly Stay[]>): boolean {
  const stays = targetsAt(row, 'subject', 'Patient').flatMap((key) => days.get(key) ?? [])
  return stays.some(({ first, last }) => touches(row, effective, first, last))
}
