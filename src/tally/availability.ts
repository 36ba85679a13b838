import type { Source } from '../config.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { FeedKind } from '../record/field.ts'
import type { AnswerRow } from './answer-row.ts'

/** Examinations after which a feed declared complete, of which nothing was ever seen, is not believed. */
const enoughToDoubt = 100

/** Kinds so frequent that a source which sends them must show some in a hundred examinations. */
const frequent: readonly FeedKind[] = ['polyps', 'pathology', 'photographs']

/** Kinds of which a single resource proves nothing about the rest: their absence means something only where it is declared to. */
const onlyDeclared: readonly FeedKind[] = ['events', 'visits', 'deaths', 'cancers']

/**
 * Feeds that a measure needs and a source does not give, judged over all its examinations of the period: a kind that was not
 * declared and never seen; events, visits, deaths and cancers not declared (their absence would mean nothing); and a frequent kind that was declared
 * but never seen in a hundred examinations or more.
 */
export function missingFeeds(measure: MeasureDefinition, source: Source, rows: readonly AnswerRow[]): FeedKind[] {
  return measure.needs.filter((kind) => {
    const declared = source.completeFeeds.includes(kind)
    if (onlyDeclared.includes(kind)) return !declared
    if (rows.some(({ seen }) => seen.includes(kind))) return false
    return declared ? frequent.includes(kind) && rows.length >= enoughToDoubt : true
  })
}
