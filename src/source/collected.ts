import { Newest } from './newest.ts'
import type { Resource } from './references.ts'
import type { Found } from './search.ts'

/** What one pull has gathered so far, and what it has to say about it. */
export class Collected {
  readonly resources = new Newest()
  readonly incomplete = new Set<string>()
  readonly notes = new Set<string>()
  readonly sourceId: string
  readonly #ignored = new Map<string, number>()

  constructor(sourceId: string) {
    this.sourceId = sourceId
  }

  /**
   * Takes over what one search found.
   * @param asked the search in words, such as `Observation by encounter`
   * @param keep which of the rows belong here; all by default
   */
  take(found: Found, asked: string, keep: (row: Resource) => boolean = () => true): void {
    for (const row of found.rows) if (keep(row)) this.resources.add(row)
    for (const sentence of found.incomplete) this.incomplete.add(sentence)
    for (const sentence of found.notes) this.notes.add(sentence)
    if (found.excluded > 0) this.#ignored.set(asked, (this.#ignored.get(asked) ?? 0) + found.excluded)
    if (found.refusal && found.incomplete.length === 0) {
      this.incomplete.add(`Source ${this.sourceId}: ${asked} cannot be searched (status ${found.refusal.status}).`)
    }
  }

  /** Everything gathered, with the counts that are only known at the end. */
  close(): { resources: Resource[]; incomplete: string[]; notes: string[] } {
    for (const [asked, rows] of this.#ignored) {
      this.notes.add(
        `Source ${this.sourceId}: the server ignored a filter of ${asked}; ${rows} rows that it excludes were left aside.`,
      )
    }
    const { withoutId } = this.resources
    if (withoutId > 0)
      this.incomplete.add(`Source ${this.sourceId}: ${withoutId} resources came without an id and were left out.`)
    return { resources: this.resources.all(), incomplete: [...this.incomplete].sort(), notes: [...this.notes].sort() }
  }
}
