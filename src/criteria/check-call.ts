import {
  type Checked,
  type CheckedList,
  type CheckedValue,
  refuseUnknownWords,
  requireBoolean,
  requireValue,
} from './checked.ts'
import type { Ast, FunctionName } from './criterion.ts'
import { CriterionError, type Position } from './criterion-error.ts'
import { commonType, described, type ValueType } from './value-type.ts'

/** One call of a function, its arguments not yet checked, because what they see depends on what it is called on. */
export interface Call {
  readonly name: FunctionName
  readonly position: Position
  /** What it is called on; absent for a call that stands alone. */
  readonly of: Checked | undefined
  /** How many arguments are written. */
  readonly count: number
  /** Checks the argument of that number from 0, with `focus` in focus, else what is in focus already. */
  readonly argument: (index: number, focus?: ValueType) => Checked
}

/** How many arguments each function takes. */
const argumentCounts: Readonly<Record<FunctionName, readonly [least: number, most: number]>> = {
  not: [0, 0],
  exists: [0, 1],
  empty: [0, 0],
  count: [0, 0],
  where: [1, 1],
  all: [1, 1],
  sum: [0, 0],
  max: [0, 0],
  min: [0, 0],
  iif: [2, 3],
}

/**
 * Checks a call of one of the accepted functions.
 *
 * @throws {CriterionError} for the wrong number of arguments, the wrong input, or arguments of the wrong type
 */
export function checkCall(call: Call): Checked {
  const { name, position, of, count } = call
  const [least, most] = argumentCounts[name]
  if (count < least || count > most)
    throw new CriterionError(
      `${name}() takes ${least === most ? least : `${least} to ${most}`} arguments, not ${count}`,
      position,
    )
  if (name === 'iif') return checkIif(call)
  if (!of) throw new CriterionError(`${name}() needs something before it: write field.${name}()`, position)
  if (of.is === 'list' && name !== 'not') return checkListCall(name, of, call)
  if (name === 'not')
    return checkedValue(
      { kind: 'value-call', name, of: requireBoolean(of, 'not()').ast },
      { kind: 'boolean' },
      position,
    )
  const value = requireValue(of, `${name}()`)
  if (value.type.kind === 'row')
    throw new CriterionError(`${name}() works on a field, and this is ${described(value.type)}`, value.position)
  if (count === 0 && (name === 'exists' || name === 'empty'))
    return checkedValue({ kind: 'value-call', name, of: value.ast }, { kind: 'boolean' }, position)
  throw new CriterionError(
    `${name}(${count === 0 ? '' : '...'}) works on a list, and this is ${described(value.type)}`,
    value.position,
  )
}

function checkListCall(name: Exclude<FunctionName, 'not' | 'iif'>, list: CheckedList, call: Call): Checked {
  const { position, count } = call
  const { ast: of, type } = list
  switch (name) {
    case 'where':
      return { is: 'list', ast: { kind: 'where', of, criterion: filter(call, type) }, type, position }
    case 'all': {
      const criterion = requireBoolean(call.argument(0, type), 'all()').ast
      return checkedValue({ kind: 'all', of, criterion }, { kind: 'boolean' }, position)
    }
    case 'exists':
    case 'empty': {
      const filtered = count === 0 ? of : ({ kind: 'where', of, criterion: filter(call, type) } as const)
      return checkedValue({ kind: 'list-call', name, of: filtered }, { kind: 'boolean' }, position)
    }
    case 'count':
      return checkedValue({ kind: 'list-call', name, of }, { kind: 'number' }, position)
    default:
      if (type.kind !== 'number')
        throw new CriterionError(`${name}() needs a list of numbers, and this is a list of other things`, list.position)
      return checkedValue({ kind: 'list-call', name, of }, { kind: 'number' }, position)
  }
}

function checkIif({ position, of, count, argument }: Call): CheckedValue {
  if (of) throw new CriterionError('iif() stands alone: write iif(condition, value, otherwise)', position)
  const condition = requireBoolean(argument(0), 'iif()')
  const whenTrue = requireValue(argument(1), 'iif()')
  const otherwise =
    count === 3 ? requireValue(argument(2), 'iif()') : checkedValue({ kind: 'empty' }, { kind: 'empty' }, position)
  refuseUnknownWords(whenTrue, otherwise)
  const type = commonType(whenTrue.type, otherwise.type)
  if (!type || type.kind === 'row')
    throw new CriterionError(
      `iif() yields unlike things: ${described(whenTrue.type)}, else ${described(otherwise.type)}`,
      position,
    )
  return checkedValue(
    { kind: 'iif', condition: condition.ast, whenTrue: whenTrue.ast, otherwise: otherwise.ast },
    type,
    position,
  )
}

/**
 * The criterion of `where` or `exists`. The `fhirpath` package takes a bare boolean field there as true whenever it is
 * recorded, false or not, against the standard. So that the two can never differ, the author says which.
 */
function filter({ name, argument }: Call, focus: ValueType): Ast {
  const criterion = requireBoolean(argument(0, focus), `${name}()`)
  if (yieldsField(criterion.ast))
    throw new CriterionError(`${name}() needs a comparison, not a bare field: write field = true`, criterion.position)
  return criterion.ast
}

function yieldsField(ast: Ast): boolean {
  if (ast.kind === 'iif') return yieldsField(ast.whenTrue) || yieldsField(ast.otherwise)
  return ast.kind === 'member' || ast.kind === 'this'
}

const checkedValue = (ast: Ast, type: ValueType, position: Position): CheckedValue => ({
  is: 'value',
  ast,
  type,
  position,
})
