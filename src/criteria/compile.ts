import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Closure } from './closure.ts'
import type { Ast, Scalar, ValueFunction } from './criterion.ts'
import { elementsOf, everyElement, overElements } from './elements.ts'
import { operations } from './operations.ts'
import { isEqual } from './order.ts'
import { reader } from './reader.ts'

/**
 * Makes a checked expression into a function of the record. Needs neither parser nor eval, which the worker's runtime
 * forbids. The answer is always that of the `fhirpath` package.
 *
 * @returns a function whose result is undefined where FHIRPath's is empty: the record does not decide
 */
export function compile(ast: Ast): (record: Colonoscopy) => Scalar | undefined {
  return closureOf(ast)
}

function closureOf(ast: Ast): Closure {
  switch (ast.kind) {
    case 'literal': {
      const { value } = ast
      return () => value
    }
    case 'empty':
      return () => undefined
    case 'this':
      return (focus) => focus as Scalar
    case 'member':
      return reader(ast.name)
    case 'operation':
      return operations[ast.operator](closureOf(ast.left), closureOf(ast.right))
    case 'in':
      return membership(closureOf(ast.left), ast.literals)
    case 'iif': {
      const [condition, whenTrue, otherwise] = [
        closureOf(ast.condition),
        closureOf(ast.whenTrue),
        closureOf(ast.otherwise),
      ]
      return (focus) => (condition(focus) === true ? whenTrue(focus) : otherwise(focus))
    }
    case 'value-call':
      return valueCall(ast.name, closureOf(ast.of))
    case 'list-call':
      return overElements(ast.name, elementsOf(ast.of, closureOf))
    case 'all':
      return everyElement(elementsOf(ast.of, closureOf), closureOf(ast.criterion))
  }
}

function membership(left: Closure, literals: readonly Scalar[]): Closure {
  return (focus) => {
    const value = left(focus)
    if (value === undefined) return undefined
    for (const literal of literals) if (isEqual(value, literal)) return true
    return false
  }
}

function valueCall(name: ValueFunction, of: Closure): Closure {
  switch (name) {
    case 'not':
      return (focus) => {
        const value = of(focus)
        return value === undefined ? undefined : !value
      }
    case 'exists':
      return (focus) => of(focus) !== undefined
    case 'empty':
      return (focus) => of(focus) === undefined
  }
}
