import type { FeedKind, Field, fields, polypFields } from './fields.ts'

type ValueOf<F extends Field> = F['type'] extends 'boolean'
  ? boolean
  : F['type'] extends 'integer' | 'decimal'
    ? number
    : F extends { values: readonly (infer Word)[] }
      ? Word
      : string

/** One polyp as found at endoscopy, with the histology that came back for it. */
export type Polyp = { -readonly [Name in keyof typeof polypFields]?: ValueOf<(typeof polypFields)[Name]> | undefined }

/**
 * One colonoscopy: flat facts, made by linkage, read by criteria. A field that is absent or undefined is *not recorded*,
 * never *no*.
 * The fields, their meaning and their units are in `fields.ts`.
 */
export type Colonoscopy = {
  -readonly [Name in Exclude<keyof typeof fields, 'polyps'>]?: ValueOf<(typeof fields)[Name]> | undefined
} & { polyps?: Polyp[] | undefined; procedure: string; source: string; completionPhotographed: boolean }

/** What linkage knew, and how: indices into the window's tables of references and rungs. */
export interface Evidence {
  readonly field: string
  readonly reference: number
  readonly rung: number
}

/** A colonoscopy with what the tally and the pages need beside its facts. */
export interface LinkedColonoscopy {
  readonly record: Colonoscopy
  /** Kinds of feed of which at least one resource was seen for this examination. */
  readonly seen: readonly FeedKind[]
  readonly trail: readonly Evidence[]
}
