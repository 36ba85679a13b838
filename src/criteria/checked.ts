import type { Ast, ListAst } from './criterion.ts'
import { CriterionError, type Position } from './criterion-error.ts'
import { described, unknownWords, type ValueType } from './value-type.ts'

/** A checked part of an expression that yields at most one value. */
export interface CheckedValue {
  readonly is: 'value'
  readonly ast: Ast
  readonly type: ValueType
  readonly position: Position
}

/** A checked part of an expression that yields a list. */
export interface CheckedList {
  readonly is: 'list'
  readonly ast: ListAst
  /** Type of one element. */
  readonly type: ValueType
  readonly position: Position
}

export type Checked = CheckedValue | CheckedList

/** @throws {CriterionError} for a list, where `asker` works on single values */
export function requireValue(operand: Checked, asker: string): CheckedValue {
  if (operand.is === 'value') return operand
  throw new CriterionError(
    `${asker} works on single values, and this is a list: write exists(...), all(...) or count()`,
    operand.position,
  )
}

export function requireBoolean(operand: Checked, asker: string): CheckedValue {
  return requireKind(operand, asker, 'boolean')
}

export function requireNumber(operand: Checked, asker: string): CheckedValue {
  return requireKind(operand, asker, 'number')
}

function requireKind(operand: Checked, asker: string, kind: 'boolean' | 'number'): CheckedValue {
  const value = requireValue(operand, asker)
  if (value.type.kind === kind || value.type.kind === 'empty') return value
  throw new CriterionError(
    `${asker} needs ${described({ kind })}, and this is ${described(value.type)}`,
    value.position,
  )
}

/** @throws {CriterionError} where one side is a literal that the other side, a code, can never be */
export function refuseUnknownWords(one: CheckedValue, other: CheckedValue): void {
  for (const [words, code] of [
    [one, other],
    [other, one],
  ] as const) {
    const [unknown] = unknownWords(words.type, code.type)
    if (unknown !== undefined) throw new CriterionError(`'${unknown}' is not ${described(code.type)}`, words.position)
  }
}
