import type { Source } from '../config.ts'
import { ReportableError } from '../errors.ts'
import { addDays } from '../fhir/dates.ts'
import { batches } from './batches.ts'
import { Collected } from './collected.ts'
import { type Connection, connect, type FetchSource, type PullOptions } from './connection.ts'
import { readFollowUps } from './follow-ups.ts'
import { readMedications } from './medications.ts'
import { readNamed } from './named.ts'
import { readObservations } from './observations.ts'
import { readPatients } from './patients.ts'
import { readRivals } from './rivals.ts'
import { type Found, search } from './search.ts'
import { beganWithin, hasCode, isDated, type WideWindow, wasAskedFor, wideWindow } from './wide-window.ts'

export interface Pulled {
  /** Parsed JSON, the newest version of each resource once, ordered by Type/id. */
  readonly resources: readonly unknown[]
  /** What the source could not deliver; empty when the pull is complete. Never holds patient data. */
  readonly incomplete: readonly string[]
  /** What was odd and costs nothing that was asked for. Never holds patient data. */
  readonly notes: readonly string[]
  /** Requests sent, repeats included. */
  readonly requests: number
}

/** Codes that a pull looks for. */
export interface PullNeeds {
  readonly colonoscopyCodes: readonly string[]
  /** Operations, treatments and colonoscopies that are history, at whatever time before. */
  readonly historyProcedureCodes: readonly string[]
  /** Observations that tell of an examination. */
  readonly observationCodes: readonly string[]
}

/**
 * Reads one window of one source: the colonoscopies performed in it or up to three days beside it, the same patients' other
 * colonoscopies near it, and all that belongs to them. Kept bare, with nothing followed from them: the patients' other
 * procedures of that time, their earlier operations and colonoscopies, their visits, and colonoscopies without a date, to be
 * counted. What the server filtered is filtered again here, as servers may ignore what they do not know.
 *
 * @param window civil dates in the source's zone, both inclusive
 * @param need codes that mean a colonoscopy, those of operations that matter at any time before it, and those of observations
 *   that tell of one; searched without their systems, which go by several names
 * @param fetchSource how to reach the network
 * @throws {ReportableError} when the examinations themselves cannot be read, or the source fails later on
 */
export async function pullWindow(
  source: Source,
  window: { readonly start: string; readonly end: string },
  need: PullNeeds,
  fetchSource: FetchSource,
  options: PullOptions = {},
): Promise<Pulled> {
  const stop = new AbortController()
  const connection = connect(source, fetchSource, stop.signal, options)
  const collected = new Collected(source.id)
  const wide = wideWindow(window, need.colonoscopyCodes)
  try {
    const [undated] = await Promise.all([
      readUndated(connection, wide, collected.notes),
      readExaminations(connection, wide, collected),
    ])
    const patients = await readPatients(connection, collected)
    await readRivals(connection, collected, patients.keys, wide)
    const examinations = collected.resources.all().filter(({ resourceType }) => resourceType === 'Procedure')
    await Promise.all([
      readFollowUps(connection, collected, examinations, patients.keys, {
        first: wide.first,
        last: wide.last,
        earlierProcedureCodes: need.historyProcedureCodes,
      }),
      readMedications(connection, collected, { examinations, patients }),
      readObservations(connection, collected, { examinations, patients }, need.observationCodes),
    ])
    await readNamed(connection, collected)
    for (const { rows } of undated) collected.keepBeside(rows)
  } catch (error) {
    stop.abort()
    throw error
  }
  return { ...collected.close(), requests: connection.requests }
}

/** The one reading that must succeed: what it is refused is thrown. */
async function readExaminations(connection: Connection, wide: WideWindow, collected: Collected): Promise<void> {
  const date = [`ge${wide.first}`, `lt${addDays(wide.last, 1)}`]
  const searches = codeLists(connection, wide).map((code) =>
    search(connection, {
      resourceType: 'Procedure',
      parameters: { code, date },
      allows: (row) => wasAskedFor(row, wide),
    }),
  )
  for (const found of await Promise.all(searches)) {
    if (found.refusal) throw found.refusal
    collected.take(found, {
      asked: 'Procedure by code and date',
      place: (row) => (row.resourceType !== 'Procedure' || beganWithin(row, wide) ? 'followed' : 'left'),
    })
  }
}

/** Colonoscopies without a date belong to no window; where they cannot be looked for, that is noted and nothing is lost. */
async function readUndated(connection: Connection, wide: WideWindow, notes: Set<string>): Promise<readonly Found[]> {
  const note = (why: string): void => {
    notes.add(`Source ${connection.source.id}: colonoscopies without a date could not be looked for: ${why}.`)
  }
  const searches = codeLists(connection, wide).map((code) =>
    search(connection, {
      resourceType: 'Procedure',
      parameters: { code, 'date:missing': 'true' },
      allows: (row) => hasCode(row, wide.codes) && !isDated(row),
      stopWhenIgnored: true,
    }),
  )
  try {
    const found = await Promise.all(searches)
    for (const { refusal, excluded, incomplete } of found) {
      if (refusal) note(`the server refuses the search (status ${refusal.status})`)
      else if (excluded > 0) note('the server ignores the filter for them')
      else if (incomplete.length > 0) note('the server did not deliver them all')
    }
    return found
  } catch (error) {
    // The search for dated examinations meets the same source: what is wrong with it as a whole shows there.
    if (!(error instanceof ReportableError)) throw error
    note(`${error.code}`)
    return []
  }
}

function codeLists(connection: Connection, wide: WideWindow): string[] {
  const rest = `${connection.source.baseUrl}/Procedure?code=&date=ge${wide.first}&date=lt${wide.last}&_count=9999`
    .length
  return batches(wide.codes, rest, Number.POSITIVE_INFINITY).map((codes) => codes.join(','))
}
