import type { Closure } from './closure.ts'
import type { Operator, Scalar } from './criterion.ts'
import { isBelow, isEqual } from './order.ts'

/** Runs on two values that are both recorded, of types that the check made sure of. */
type OnRecorded = (left: Scalar, right: Scalar) => Scalar | undefined

/** Everything but logic is empty as soon as one side is. */
const recorded =
  (operate: OnRecorded) =>
  (left: Closure, right: Closure): Closure =>
  (focus) => {
    const one = left(focus)
    if (one === undefined) return undefined
    const other = right(focus)
    return other === undefined ? undefined : operate(one, other)
  }

const numeric = (operate: (left: number, right: number) => Scalar | undefined) =>
  recorded((left, right) => operate(left as number, right as number))

/** False wins over empty, empty over true. */
const and =
  (left: Closure, right: Closure): Closure =>
  (focus) => {
    const one = left(focus)
    if (one === false) return false
    const other = right(focus)
    if (other === false) return false
    return one === undefined || other === undefined ? undefined : true
  }

/** True wins over empty, empty over false. */
const or =
  (left: Closure, right: Closure): Closure =>
  (focus) => {
    const one = left(focus)
    if (one === true) return true
    const other = right(focus)
    if (other === true) return true
    return one === undefined || other === undefined ? undefined : false
  }

/** Not left, or right. */
const implies =
  (left: Closure, right: Closure): Closure =>
  (focus) => {
    const one = left(focus)
    if (one === false) return true
    const other = right(focus)
    if (other === true) return true
    return one === undefined || other === undefined ? undefined : false
  }

/**
 * What each operator does, empty included. Source: FHIRPath Normative Release 1 (v2.0.0), 6.1 equality, 6.2 comparison,
 * 6.5 boolean logic, 6.6 math: division by zero is empty. Arithmetic is that of JavaScript numbers, as in the package;
 * `<=` is "not above", which for what is not a number differs from "below or equal".
 */
export const operations: Readonly<Record<Operator, (left: Closure, right: Closure) => Closure>> = {
  and,
  or,
  implies,
  '=': recorded(isEqual),
  '!=': recorded((left, right) => !isEqual(left, right)),
  '<': numeric(isBelow),
  '<=': numeric((left, right) => !isBelow(right, left)),
  '>': numeric((left, right) => isBelow(right, left)),
  '>=': numeric((left, right) => !isBelow(left, right)),
  '+': numeric((left, right) => left + right),
  '-': numeric((left, right) => left - right),
  '*': numeric((left, right) => left * right),
  '/': numeric((left, right) => (right === 0 ? undefined : left / right)),
}
