import { type Call, checkCall } from './check-call.ts'
import { checkMembership, checkOperation } from './check-operation.ts'
import { type Checked, type CheckedValue, requireValue } from './checked.ts'
import { type Criterion, functionNames, operators } from './criterion.ts'
import { CriterionError } from './criterion-error.ts'
import { refusedFunction, refusedOperator, refusedTerm } from './refusals.ts'
import {
  literalValue,
  onlyChild,
  positionOf,
  type SyntaxNode,
  syntaxTree,
  twoChildren,
  unwrapped,
} from './syntax-tree.ts'
import { described, fieldType, literalType, type Model, type ValueType } from './value-type.ts'

/** What bare names and `$this` mean at one place of the expression, and where to note the fields that are read. */
interface Scope {
  readonly focus: ValueType
  readonly read: Set<string>
}

/**
 * Parses a FHIRPath expression and checks it against the logical model. Runs in the build step only: the worker sees the
 * tree, never the text.
 *
 * @param want what the expression must yield
 * @param model the fields of the record
 * @throws {CriterionError} with reason and position, for anything that is not accepted or does not fit the model
 */
export function parseCriterion(expression: string, want: 'boolean' | 'number', model: Model): Criterion {
  const read = new Set<string>()
  const checked = check(syntaxTree(expression), { focus: { kind: 'row', model, path: '' }, read })
  const { ast, type, position } = requireValue(checked, 'a criterion')
  if (type.kind !== want && type.kind !== 'empty')
    throw new CriterionError(
      `the expression must yield ${described({ kind: want })}, and yields ${described(type)}`,
      position,
    )
  return { expression, ast, fields: [...read] }
}

function check(wrapped: SyntaxNode, scope: Scope): Checked {
  const node = unwrapped(wrapped)
  const position = positionOf(node)
  const refusal = refusedTerm(node.type)
  if (refusal) throw new CriterionError(refusal, position)
  switch (node.type) {
    case 'LiteralTerm':
      return checkLiteral(node)
    case 'PolarityExpression':
      return checkSigned(node)
    case 'MemberInvocation':
      return checkMember(node, undefined, scope)
    case 'FunctionInvocation':
      return checkFunction(node, undefined, scope)
    case 'ThisInvocation':
      return { is: 'value', ast: { kind: 'this' }, type: scope.focus, position }
    case 'InvocationExpression':
      return checkInvocation(node, scope)
  }
  const [left, right] = twoChildren(node)
  if (node.text === 'in') return checkMembership(position, check(left, scope), literalsOf(right))
  const operator = operators.find((known) => known === node.text)
  if (operator) return checkOperation(operator, position, check(left, scope), check(right, scope))
  throw new CriterionError(refusedOperator(node.text ?? node.type), position)
}

function checkLiteral(node: SyntaxNode): CheckedValue {
  const literal = onlyChild(node)
  const position = positionOf(node)
  if (literal.type === 'NullLiteral') return { is: 'value', ast: { kind: 'empty' }, type: { kind: 'empty' }, position }
  const refusal = refusedTerm(literal.type)
  if (refusal) throw new CriterionError(refusal, position)
  const value = literalValue(node)
  return { is: 'value', ast: { kind: 'literal', value }, type: literalType(value), position }
}

/** The package throws for a sign before anything that is not recorded; so a sign belongs to a literal. */
function checkSigned(node: SyntaxNode): CheckedValue {
  const position = positionOf(node)
  const operand = unwrapped(onlyChild(node))
  const ast = operand.type === 'LiteralTerm' ? checkLiteral(operand).ast : undefined
  if (node.text === '-' && ast?.kind === 'literal' && typeof ast.value === 'number')
    return { is: 'value', ast: { kind: 'literal', value: -ast.value }, type: { kind: 'number' }, position }
  throw new CriterionError('a sign is accepted only as the minus of a number such as -1: write 0 - field', position)
}

function checkInvocation(node: SyntaxNode, scope: Scope): Checked {
  const [left, invocation] = twoChildren(node)
  const of = check(left, scope)
  if (invocation.type === 'MemberInvocation') return checkMember(invocation, of, scope)
  if (invocation.type === 'FunctionInvocation') return checkFunction(invocation, of, scope)
  throw new CriterionError(
    refusedTerm(invocation.type) ?? '$this stands at the start of a path',
    positionOf(invocation),
  )
}

function checkMember(node: SyntaxNode, of: Checked | undefined, scope: Scope): Checked {
  const position = positionOf(node)
  const name = (node.text ?? '').replace(/^`(.*)`$/, '$1')
  const owner = of?.type ?? scope.focus
  if (owner.kind !== 'row')
    throw new CriterionError(`${name} cannot be read here: ${described(owner)} has no fields`, position)
  const { model, path } = owner
  const field = Object.hasOwn(model, name) ? model[name] : undefined
  if (!field) {
    const known = path === '' ? '' : `, only ${Object.keys(model).join(', ')}`
    throw new CriterionError(
      `${path === '' ? 'the record' : `an element of ${path.slice(0, -1)}`} has no field ${name}${known}`,
      position,
    )
  }
  if (path !== '' && field.type === 'list') throw new CriterionError(`${name} is a list within a list`, position)
  scope.read.add(`${path}${name}`)
  if (field.type === 'list')
    return {
      is: 'list',
      ast: { kind: 'list', name },
      type: { kind: 'row', model: field.of ?? {}, path: `${name}.` },
      position,
    }
  if (of?.is === 'list')
    return { is: 'list', ast: { kind: 'each', of: of.ast, name }, type: fieldType(field), position }
  return { is: 'value', ast: { kind: 'member', name }, type: fieldType(field), position }
}

function checkFunction(node: SyntaxNode, of: Checked | undefined, scope: Scope): Checked {
  const position = positionOf(node)
  const name = functionNames.find((known) => known === node.text)
  if (!name) throw new CriterionError(refusedFunction(node.text ?? ''), position)
  const written = onlyChild(node).children?.find(({ type }) => type === 'ParamList')?.children ?? []
  const argument: Call['argument'] = (index, focus = scope.focus) => {
    const node = written[index]
    if (!node) throw new RangeError(`${name}() has no argument ${index}`)
    return check(node, { ...scope, focus })
  }
  return checkCall({ name, position, of, count: written.length, argument })
}

function literalsOf(wrapped: SyntaxNode): CheckedValue[] {
  const node = unwrapped(wrapped)
  if (node.type === 'UnionExpression') return (node.children ?? []).flatMap(literalsOf)
  if (node.type === 'LiteralTerm') return [checkLiteral(node)]
  if (node.type === 'PolarityExpression') return [checkSigned(node)]
  throw new CriterionError("in needs literals: write field in ('this' | 'that')", positionOf(node))
}
