export type Scalar = boolean | number | string

/** A parsed and type-checked FHIRPath expression over the record: plain data, made at build time, run by closures. */
export type Ast =
  | { readonly kind: 'literal'; readonly value: Scalar }
  | { readonly kind: 'empty' }
  /** The value in focus inside a list of plain values, as in `polyps.site.where($this = 'rectum')`. */
  | { readonly kind: 'this' }
  /** A field of the record, or of the list's element in focus. */
  | { readonly kind: 'member'; readonly name: string }
  | { readonly kind: 'operation'; readonly operator: Operator; readonly left: Ast; readonly right: Ast }
  | { readonly kind: 'in'; readonly left: Ast; readonly literals: readonly Scalar[] }
  | { readonly kind: 'iif'; readonly condition: Ast; readonly whenTrue: Ast; readonly otherwise: Ast }
  | { readonly kind: 'value-call'; readonly name: ValueFunction; readonly of: Ast }
  | { readonly kind: 'list-call'; readonly name: ListFunction; readonly of: ListAst }
  | { readonly kind: 'all'; readonly of: ListAst; readonly criterion: Ast }

/** The elements of a list, perhaps filtered, perhaps one field of each. `exists(c)` is `where(c).exists()`. */
export type ListAst =
  | { readonly kind: 'list'; readonly name: string }
  | { readonly kind: 'each'; readonly of: ListAst; readonly name: string }
  | { readonly kind: 'where'; readonly of: ListAst; readonly criterion: Ast }

export const operators = ['and', 'or', 'implies', '=', '!=', '<', '<=', '>', '>=', '+', '-', '*', '/'] as const
export type Operator = (typeof operators)[number]

export type ValueFunction = 'not' | 'exists' | 'empty'
export type ListFunction = 'exists' | 'empty' | 'count' | 'sum' | 'max' | 'min'

export const functionNames = ['not', 'exists', 'empty', 'count', 'where', 'all', 'sum', 'max', 'min', 'iif'] as const
export type FunctionName = (typeof functionNames)[number]

export interface Criterion {
  /** The expression as the measure's author wrote it. */
  readonly expression: string
  readonly ast: Ast
  /** Fields of the record it reads, in order of appearance; those of a list's elements as `polyps.site`. */
  readonly fields: readonly string[]
}
