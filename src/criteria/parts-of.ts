import type { Ast } from './criterion.ts'

/**
 * The parts of an expression that read the record itself and cost something: the whole first, then what it is made of. A literal
 * or a field is read as fast as what would be remembered of it; what stands inside a list reads elements.
 */
export function partsOf(ast: Ast): Ast[] {
  switch (ast.kind) {
    case 'operation':
      return [ast, ...partsOf(ast.left), ...partsOf(ast.right)]
    case 'in':
      return [ast, ...partsOf(ast.left)]
    case 'iif':
      return [ast, ...partsOf(ast.condition), ...partsOf(ast.whenTrue), ...partsOf(ast.otherwise)]
    case 'value-call':
      return [ast, ...partsOf(ast.of)]
    case 'list-call':
    case 'all':
      return [ast]
    default:
      return []
  }
}
