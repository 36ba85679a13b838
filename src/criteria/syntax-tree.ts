import fhirpath from 'fhirpath'
import type { Scalar } from './criterion.ts'
import { CriterionError, type Position } from './criterion-error.ts'

/** A node of the tree that the `fhirpath` package parses; the type names are those of the FHIRPath grammar. */
export interface SyntaxNode {
  readonly type: string
  readonly text?: string
  /** Of an operator, the operator itself. Absent from nodes that only wrap another. */
  readonly start?: Position
  readonly children?: readonly SyntaxNode[]
}

/**
 * Parses an expression by the grammar of the `fhirpath` package, so that this service and the package cannot disagree about
 * precedence.
 *
 * @throws {CriterionError} where the text is not FHIRPath
 */
export function syntaxTree(expression: string): SyntaxNode {
  try {
    return onlyChild(onlyChild(fhirpath.parse(expression)))
  } catch (error) {
    throw syntaxError(error, expression)
  }
}

/** @returns the literal's value exactly as the package reads it (escapes, leading zeros) */
export function literalValue(node: SyntaxNode): Scalar {
  const [value]: Scalar[] = fhirpath.evaluate({}, node.text ?? '', undefined, undefined, { async: false })
  if (value === undefined) throw new CriterionError(`${node.text} has no value`, positionOf(node))
  return value
}

/** @returns the node without the wrappers that carry no meaning, parentheses included */
export function unwrapped(node: SyntaxNode): SyntaxNode {
  return ['TermExpression', 'InvocationTerm', 'ParenthesizedTerm'].includes(node.type)
    ? unwrapped(onlyChild(node))
    : node
}

export function positionOf(node: SyntaxNode): Position {
  const started = firstStarted(node)
  return { line: started?.line ?? 1, column: started?.column ?? 1 }
}

function firstStarted(node: SyntaxNode): Position | undefined {
  if (node.start) return node.start
  for (const child of node.children ?? []) {
    const start = firstStarted(child)
    if (start) return start
  }
  return undefined
}

export function onlyChild(node: SyntaxNode): SyntaxNode {
  const [child] = node.children ?? []
  if (!child) throw new CriterionError('the expression is incomplete', positionOf(node))
  return child
}

export function twoChildren(node: SyntaxNode): readonly [SyntaxNode, SyntaxNode] {
  const [left, right] = node.children ?? []
  if (!left || !right) throw new CriterionError('the expression is incomplete', positionOf(node))
  return [left, right]
}

/** Words that the grammar keeps for durations, so that they cannot name a field. */
const durations = /^(year|month|week|day|hour|minute|second|millisecond)s?$/

/** The parser's own messages list token names; these say what an author can act on. */
function syntaxError(error: unknown, expression: string): CriterionError {
  // [recogniser, offending token, line, column from 0, message]: what the package attaches to its error.
  const first = (error as { errors?: readonly [unknown, { text?: string } | null, number, number, string][] })
    .errors?.[0]
  if (!first) return new CriterionError('this is not a FHIRPath expression', { line: 1, column: 1 })
  const [, token, line, column] = first
  const position = { line, column: column + 1 }
  if (expression.trim() === '') return new CriterionError('the expression is blank', { line: 1, column: 1 })
  if (token?.text === '<EOF>') return new CriterionError('the expression ends too early', position)
  const text = token?.text ?? expression.split('\n')[line - 1]?.[column] ?? ''
  return durations.test(text)
    ? new CriterionError(`${text} is a reserved word of FHIRPath and cannot be a field`, position)
    : new CriterionError(`unexpected ${text}`, position)
}
