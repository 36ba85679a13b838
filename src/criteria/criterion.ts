/** A parsed and type-checked FHIRPath expression over the record: plain data, made at build time, run by closures. */
export type Ast =
  | { readonly kind: 'literal'; readonly value: boolean | number | string }
  | { readonly kind: 'empty' }
  | { readonly kind: 'this' }
  /** A field of the record, or of the element in focus when `of` is `$this`. */
  | { readonly kind: 'member'; readonly name: string; readonly of?: Ast }
  | { readonly kind: 'negate'; readonly operand: Ast }
  | { readonly kind: 'operation'; readonly operator: Operator; readonly left: Ast; readonly right: Ast }
  | { readonly kind: 'in'; readonly left: Ast; readonly literals: readonly (boolean | number | string)[] }
  | { readonly kind: 'call'; readonly name: FunctionName; readonly of?: Ast; readonly arguments: readonly Ast[] }

export type Operator = 'and' | 'or' | 'implies' | '=' | '!=' | '<' | '<=' | '>' | '>=' | '+' | '-' | '*' | '/'
export type FunctionName = 'not' | 'exists' | 'empty' | 'count' | 'where' | 'all' | 'sum' | 'max' | 'min' | 'iif'

export interface Criterion {
  /** The expression as the measure's author wrote it. */
  readonly expression: string
  readonly ast: Ast
  /** Fields of the record it reads; polyp fields as `polyps.site`. */
  readonly fields: readonly string[]
}
