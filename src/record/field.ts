/** A kind of fact whose absence from a *complete* feed means "none". */
export const feedKinds = [
  'polyps',
  'pathology',
  'history',
  'medication',
  'photographs',
  'events',
  'visits',
  'deaths',
  'cancers',
] as const
export type FeedKind = (typeof feedKinds)[number]

export type FieldType = 'string' | 'boolean' | 'integer' | 'decimal' | 'date' | 'code' | 'list'

export interface Field {
  readonly type: FieldType
  /** What it means, in one sentence; the unit where it has one. */
  readonly short: string
  /** What fills it, and what *not recorded* looks like. */
  readonly filledBy: string
  /** UCUM unit of a number. */
  readonly unit?: string
  /** The allowed words of a `code`. */
  readonly values?: readonly string[]
  /** The fields of one element of a `list`. */
  readonly of?: Readonly<Record<string, Field>>
  /** The feed this fact depends on: where a source never sends it, a measure that needs it is *not available*. */
  readonly feed?: FeedKind
}
