import type { Source } from '../config.ts'
import type { FeedKind } from '../record/field.ts'
import type { Reading } from './collected.ts'

/**
 * A reading that most stores do without. Its refusal is noted and makes no report incomplete, unless the source declares that
 * it sends every fact of the kind that stands here: then absence would be taken for none.
 */
export type Spared = FeedKind | 'whatever is declared'

/** How the refusal of a reading is told that a source may do without. */
export function refusalOf(spared: Spared | undefined, { completeFeeds }: Source): Partial<Reading> {
  const isSpared = spared !== undefined && (spared === 'whatever is declared' || !completeFeeds.includes(spared))
  return isSpared ? { refusalIn: 'notes', consequence: 'What only it could tell is not recorded.' } : {}
}
