import type { eventFields, visitFields } from './afterwards.ts'
import type { FeedKind, Field } from './field.ts'
import type { FieldName, fields } from './fields.ts'
import type { polypFields } from './findings.ts'
import type { reasonFields } from './why.ts'

type ValueOf<F extends Field> = F['type'] extends 'boolean'
  ? boolean
  : F['type'] extends 'integer' | 'decimal'
    ? number
    : F extends { of: infer Of extends Readonly<Record<string, Field>> }
      ? Element<Of>[]
      : F extends { values: readonly (infer Word)[] }
        ? Word
        : string

type Element<Of extends Readonly<Record<string, Field>>> = {
  -readonly [Name in keyof Of]?: ValueOf<Of[Name]> | undefined
}

/** One polyp as found at endoscopy, with the histology that came back for it. */
export type Polyp = Element<typeof polypFields>
/** One adverse event given to the examination. */
export type RecordedEvent = Element<typeof eventFields>
/** One hospital visit after the examination. */
export type Visit = Element<typeof visitFields>
/** One stated reason. */
export type Reason = Element<typeof reasonFields>

/**
 * One colonoscopy: flat facts, made by linkage, read by criteria. A field that is absent or undefined is *not recorded*,
 * never *no*.
 * The fields, their meaning and their units are in `fields.ts`.
 */
export type Colonoscopy = {
  -readonly [Name in FieldName]?: ValueOf<(typeof fields)[Name]> | undefined
} & { procedure: string; source: string }

/** A colonoscopy with what the tally and the pages need beside its facts. */
export interface LinkedColonoscopy {
  readonly record: Colonoscopy
  /** Civil date of the examination; the last on which it may have begun, where only a month or a year is written. */
  readonly date: string
  /** Kinds of feed of which at least one resource was seen for this examination. */
  readonly seen: readonly FeedKind[]
}
