import type { Closure, Row } from './closure.ts'
import type { Ast, ListAst, ListFunction, Scalar } from './criterion.ts'
import { isBelow } from './order.ts'

/**
 * A list of the record and what is done to each element, so that every function over it is one loop without copies. A step
 * that yields undefined drops the element.
 */
export interface Elements {
  readonly list: string
  readonly step: (element: Row | Scalar) => Row | Scalar | undefined
}

/** @param compile makes the closure of a filter */
export function elementsOf(ast: ListAst, compile: (ast: Ast) => Closure): Elements {
  if (ast.kind === 'list') return { list: ast.name, step: (element) => element }
  const { list, step } = elementsOf(ast.of, compile)
  const next = ast.kind === 'each' ? memberStep(ast.name) : filterStep(compile(ast.criterion))
  if (ast.of.kind === 'list') return { list, step: next }
  return {
    list,
    step: (element) => {
      const before = step(element)
      return before === undefined ? undefined : next(before)
    },
  }
}

const memberStep =
  (name: string): Elements['step'] =>
  (element) =>
    (element as Row)[name] as Scalar | undefined

const filterStep =
  (criterion: Closure): Elements['step'] =>
  (element) =>
    criterion(element) === true ? element : undefined

/** An absent list is an empty one, as in FHIRPath; that is why every list of the record has a scalar count beside it. */
const listIn = (focus: Row | Scalar, name: string): readonly (Row | Scalar)[] =>
  ((focus as Row)[name] as readonly Row[] | undefined) ?? []

/** True where the criterion is true of every element; empty does not count as true. */
export function everyElement({ list, step }: Elements, criterion: Closure): Closure {
  return (focus) => {
    for (const element of listIn(focus, list)) {
      const value = step(element)
      if (value !== undefined && criterion(value) !== true) return false
    }
    return true
  }
}

/** One of the functions over a list that need no criterion. */
export function overElements(name: ListFunction, elements: Elements): Closure {
  switch (name) {
    case 'exists':
      return (focus) => hasAny(elements, focus)
    case 'empty':
      return (focus) => !hasAny(elements, focus)
    case 'count':
      return (focus) => {
        let count = 0
        for (const element of listIn(focus, elements.list)) if (elements.step(element) !== undefined) count += 1
        return count
      }
    case 'sum':
      return fold(elements, (total, value) => total + value)
    case 'max':
      return fold(elements, (most, value) => (isBelow(most, value) ? value : most))
    case 'min':
      return fold(elements, (least, value) => (isBelow(value, least) ? value : least))
  }
}

function hasAny({ list, step }: Elements, focus: Row | Scalar): boolean {
  for (const element of listIn(focus, list)) if (step(element) !== undefined) return true
  return false
}

/** Of no element, empty. */
function fold({ list, step }: Elements, join: (before: number, value: number) => number): Closure {
  return (focus) => {
    let result: number | undefined
    for (const element of listIn(focus, list)) {
      const value = step(element) as number | undefined
      if (value !== undefined) result = result === undefined ? value : join(result, value)
    }
    return result
  }
}
