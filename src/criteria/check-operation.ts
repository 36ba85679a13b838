import {
  type Checked,
  type CheckedValue,
  refuseUnknownWords,
  requireBoolean,
  requireNumber,
  requireValue,
} from './checked.ts'
import type { Operator, Scalar } from './criterion.ts'
import { CriterionError, type Position } from './criterion-error.ts'
import { commonType, described } from './value-type.ts'

/**
 * Checks the operands of an operator.
 *
 * @throws {CriterionError} for operands that are unlike, lists, or not what the operator works on
 */
export function checkOperation(operator: Operator, position: Position, one: Checked, other: Checked): CheckedValue {
  const [left, right] = checkOperands(operator, position, one, other)
  const kind = ['+', '-', '*', '/'].includes(operator) ? 'number' : 'boolean'
  return {
    is: 'value',
    ast: { kind: 'operation', operator, left: left.ast, right: right.ast },
    type: { kind },
    position,
  }
}

function checkOperands(operator: Operator, position: Position, one: Checked, other: Checked) {
  switch (operator) {
    case 'and':
    case 'or':
    case 'implies':
      return [requireBoolean(one, operator), requireBoolean(other, operator)] as const
    case '+':
    case '-':
    case '*':
    case '/':
      return [requireNumber(one, operator), requireNumber(other, operator)] as const
    case '=':
    case '!=':
      return checkAlike(operator, position, one, other)
    default:
      for (const operand of checkAlike(operator, position, one, other)) requireNumber(operand, operator)
      return [requireNumber(one, operator), requireNumber(other, operator)] as const
  }
}

/**
 * Checks `left in (literals)`.
 *
 * @throws {CriterionError} where a literal cannot be equal to the left side
 */
export function checkMembership(position: Position, one: Checked, literals: readonly CheckedValue[]): CheckedValue {
  const left = requireValue(one, 'in')
  for (const literal of literals) checkAlike('in', literal.position, left, literal)
  const values = literals.flatMap(({ ast }): Scalar[] => (ast.kind === 'literal' ? [ast.value] : []))
  return { is: 'value', ast: { kind: 'in', left: left.ast, literals: values }, type: { kind: 'boolean' }, position }
}

function checkAlike(operator: string, position: Position, one: Checked, other: Checked) {
  const operands = [requireValue(one, operator), requireValue(other, operator)] as const
  for (const { type, position } of operands) {
    if (type.kind === 'empty')
      throw new CriterionError('a comparison with {} is always empty: write field.exists() or field.empty()', position)
    if (type.kind === 'date')
      throw new CriterionError('dates are not compared in a criterion: the report chooses the period', position)
  }
  refuseUnknownWords(...operands)
  const [left, right] = operands
  if (commonType(left.type, right.type)) return operands
  throw new CriterionError(
    `${operator} compares unlike things: ${described(left.type)} with ${described(right.type)}`,
    position,
  )
}
