import type { Collected, Reading } from './collected.ts'
import type { Connection } from './connection.ts'
import { type Resource, referencesAt, targetOf } from './references.ts'
import { type Query, search } from './search.ts'

/** Ids per comma list: many servers take a few dozen at most, some cut longer lists in silence. */
export const idsPerList = 25

/** The first query alone, so that a search the server refuses is asked once and not once per batch; then the rest. */
export async function readAll(
  connection: Connection,
  collected: Collected,
  queries: readonly Query[],
  reading: Reading,
): Promise<void> {
  const [first, ...others] = queries
  if (!first) return
  const found = await search(connection, first)
  collected.take(found, reading)
  if (found.refusal || (reading.stopsWhenIgnored && found.excluded > 0)) return
  for (const one of await Promise.all(others.map((query) => search(connection, query)))) collected.take(one, reading)
}

/** A row whose element names other resources only was not asked for; one that names none may have been matched otherwise. */
export function pointsAt(row: Resource, element: string, keys: ReadonlySet<string>): boolean {
  const targets = targetsOf(row, element)
  return targets.length === 0 || targets.some((key) => keys.has(key))
}

/** As {@link pointsAt}, where one that names none was not asked for either. */
export const namesOneOf = (row: Resource, element: string, keys: ReadonlySet<string>): boolean =>
  targetsOf(row, element).some((key) => keys.has(key))

const targetsOf = (row: Resource, element: string): string[] =>
  referencesAt(row, element).flatMap((reference) => targetOf(reference) ?? [])
