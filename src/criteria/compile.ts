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
 * @param share asked for every part that reads the record itself, and not an element of a list: gives what such a part was made
 *   into before, or keeps what it is made into now
 * @returns a function whose result is undefined where FHIRPath's is empty: the record does not decide
 */
export function compile(ast: Ast, share?: Share): (record: Colonoscopy) => Scalar | undefined {
  const whole = (part: Ast): Closure => (share ? share(part, () => closureOf(part, whole)) : closureOf(part, whole))
  return whole(ast)
}

/** Gives the function of a part of an expression, made anew or made before. */
export type Share = (part: Ast, make: () => Closure) => Closure

/** Inside a list every part reads an element, which no two expressions share. */
const ofElement = (ast: Ast): Closure => closureOf(ast, ofElement)

/** @param of how the parts of the expression that read what it reads are made */
function closureOf(ast: Ast, of: (part: Ast) => Closure): Closure {
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
      return operations[ast.operator](of(ast.left), of(ast.right))
    case 'in':
      return membership(of(ast.left), ast.literals)
    case 'iif': {
      const [condition, whenTrue, otherwise] = [of(ast.condition), of(ast.whenTrue), of(ast.otherwise)]
      return (focus) => (condition(focus) === true ? whenTrue(focus) : otherwise(focus))
    }
    case 'value-call':
      return valueCall(ast.name, of(ast.of))
    case 'list-call':
      return overElements(ast.name, elementsOf(ast.of, ofElement))
    case 'all':
      return everyElement(elementsOf(ast.of, ofElement), ofElement(ast.criterion))
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
