import { Newest } from './newest.ts'
import type { Resource } from './references.ts'
import type { Found } from './search.ts'

/**
 * What becomes of a row: `followed` belongs to the examinations, and what it names is read too; `beside` is kept, but leads
 * nowhere unless something that is followed names it; `left` was not needed.
 */
export type Place = 'followed' | 'beside' | 'left'

export interface Reading {
  /** The search in words, such as `Observation by encounter`. */
  readonly asked: string
  /** Where each row goes; `followed` by default. */
  readonly place?: (row: Resource) => Place
  /** The search is given up where the server ignores its filter, which is told as a refusal is. */
  readonly stopsWhenIgnored?: boolean
  /** Where a refusal is told: a reading that most stores do without is noted. `incomplete` by default. */
  readonly refusalIn?: 'incomplete' | 'notes'
  /** What the refusal costs, or what is done instead, as a sentence. */
  readonly consequence?: string
}

/** What one pull has gathered so far, and what it has to say about it. */
export class Collected {
  readonly resources = new Newest()
  readonly incomplete = new Set<string>()
  readonly notes = new Set<string>()
  readonly sourceId: string
  readonly #beside = new Newest()
  readonly #ignored = new Map<string, number>()
  #contents = 0

  constructor(sourceId: string) {
    this.sourceId = sourceId
  }

  /** Takes over what one search found. */
  take(found: Found, reading: Reading): void {
    const { asked, place = () => 'followed', refusalIn = 'incomplete', consequence } = reading
    for (const row of found.rows) {
      const where = place(row)
      if (where !== 'left') (where === 'followed' ? this.resources : this.#beside).add(row)
    }
    for (const sentence of found.incomplete) this.incomplete.add(sentence)
    for (const sentence of found.notes) this.notes.add(sentence)
    this.#contents += found.contents
    const tell = (why: string): void => {
      const sentence = `Source ${this.sourceId}: ${asked} cannot be searched (${why}).`
      this[refusalIn].add(consequence === undefined ? sentence : `${sentence} ${consequence}`)
    }
    if (found.excluded > 0 && reading.stopsWhenIgnored) tell('the server ignores the filter')
    else if (found.excluded > 0) this.#ignored.set(asked, (this.#ignored.get(asked) ?? 0) + found.excluded)
    if (found.refusal && found.incomplete.length === 0) tell(`status ${found.refusal.status}`)
  }

  /** Keeps rows that nothing is to be followed from. */
  keepBeside(rows: readonly Resource[]): void {
    for (const row of rows) this.#beside.add(row)
  }

  /** Moves a resource that was kept beside among the followed, as one of those names it. */
  promote(key: string): boolean {
    const resource = this.#beside.get(key)
    if (resource) this.resources.add(resource)
    return resource !== undefined
  }

  /** Everything gathered, with the counts that are only known at the end. */
  close(): { resources: Resource[]; incomplete: string[]; notes: string[] } {
    const note = (sentence: string): unknown => this.notes.add(`Source ${this.sourceId}: ${sentence}`)
    for (const [asked, rows] of this.#ignored)
      note(`the server ignored a filter of ${asked}; ${rows} rows that it excludes were left aside.`)
    if (this.#contents > 0)
      note(`the content of ${this.#contents} pictures and documents was not kept; text in them is not read.`)
    this.keepBeside(this.resources.all())
    const differing = new Set([...this.resources.differing, ...this.#beside.differing]).size
    if (differing > 0)
      this.incomplete.add(
        `Source ${this.sourceId}: ${differing} resources came twice with different contents, and nothing says which is the newer; one of the two was read.`,
      )
    const withoutId = this.#beside.withoutId + this.resources.withoutId
    if (withoutId > 0)
      this.incomplete.add(`Source ${this.sourceId}: ${withoutId} resources came without an id and were left out.`)
    return { resources: this.#beside.all(), incomplete: [...this.incomplete].sort(), notes: [...this.notes].sort() }
  }
}
