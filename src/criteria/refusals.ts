import { functionNames } from './criterion.ts'

/**
 * Why a construct of FHIRPath is refused, and what to write instead. They are refused because what the standard makes of
 * them surprises authors, or because a record of plain facts has no use for them.
 */
const operators: Readonly<Record<string, string>> = {
  '~': '~ ignores case and rounds: write =',
  '!~': '!~ ignores case and rounds: write !=',
  xor: 'xor is not accepted: write (a and b.not()) or (a.not() and b)',
  contains: "contains is not accepted: write field in ('this' | 'that'), or list.exists($this = 'this')",
  is: 'is is not accepted: every field has one type, which the logical model states',
  as: 'as is not accepted: every field has one type, which the logical model states',
  div: 'div is not accepted: write / and compare the exact quotient',
  mod: 'mod is not accepted: no fact of the record needs a remainder',
  '&': '& is not accepted: texts are compared, never joined',
  '|': "| is accepted only to list literals after in: field in ('this' | 'that')",
}

const terms: Readonly<Record<string, string>> = {
  IndexerExpression: 'an index such as [0] is not accepted, the lists have no order: write where(...) or exists(...)',
  ExternalConstantTerm: '% variables are not accepted: a criterion reads the record only',
  DateLiteral:
    'dates are not accepted: the report chooses the period; for ages and delays there are fields in years and days',
  DateTimeLiteral:
    'dates are not accepted: the report chooses the period; for ages and delays there are fields in years and days',
  TimeLiteral: 'times are not accepted: for durations there are fields in minutes',
  QuantityLiteral: 'quantities are not accepted: every field has a fixed unit, so write the number alone',
  LongNumberLiteral: 'long numbers are not accepted: write the number without L',
  IndexInvocation: '$index is not accepted, the lists have no order: write where(...) or exists(...)',
  TotalInvocation: '$total is not accepted: write sum(), max(), min() or count()',
  InstanceSelectorTerm: 'a criterion reads the record and makes no objects',
}

const clock = 'criteria do not know the time: a report is made as of its own instant'
const order = 'the lists have no order: write where(...), exists(...), max() or min()'
const types = 'every field has one type, which the logical model states'

const functions: Readonly<Record<string, string>> = {
  now: clock,
  today: clock,
  timeOfDay: clock,
  first: order,
  last: order,
  tail: order,
  skip: order,
  take: order,
  single: order,
  contains: "write field in ('this' | 'that'), or list.exists($this = 'this')",
  is: types,
  as: types,
  ofType: types,
  select: 'name the member instead, as in polyps.sizeMillimetres',
}

/** @returns the refusal of an operator that is not accepted */
export const refusedOperator = (operator: string): string => entry(operators, operator) ?? `${operator} is not accepted`

/** @returns the refusal of a node of the grammar, or undefined where it is accepted */
export const refusedTerm = (type: string): string | undefined => entry(terms, type)

/** @returns the refusal of a function that is not accepted */
export const refusedFunction = (name: string): string =>
  `${name}() is not accepted: ${entry(functions, name) ?? `the functions are ${functionNames.join(', ')}`}`

const entry = (table: Readonly<Record<string, string>>, key: string): string | undefined =>
  Object.hasOwn(table, key) ? table[key] : undefined
