import { readMoment } from '../fhir/dates.ts'
import { asObject, type Json } from '../fhir/json.ts'
import type { FieldName } from '../record/fields.ts'
import type { Examination } from './examinations.ts'
import { type Told, valueElementOf } from './reading.ts'

/** One value that a resource states for a fact. */
export interface Statement<Value> {
  readonly value: Value
  readonly told: Told
  /** Element it stands in; that of the holder's value where absent. */
  readonly element?: string
}

/** Adds to a list that is made only when there is something to put in it. */
export function stated<Value>(
  statements: Statement<Value>[] | undefined,
  value: Value | undefined,
  told: Told,
  element?: string,
): Statement<Value>[] | undefined {
  if (value === undefined) return statements
  const statement = element === undefined ? { value, told } : { value, told, element }
  if (statements === undefined) return [statement]
  statements.push(statement)
  return statements
}

/**
 * The one value that all statements of a fact agree on. Where they differ the contradiction is listed, and a final statement
 * stands against one that is not, a later one (by `issued`, else `effective`) against an earlier one of the same standing; what
 * that leaves undecided is not recorded. The order of the statements makes no difference.
 */
export function settle<Value extends string | number | boolean>(
  field: FieldName,
  statements: readonly Statement<Value>[] | undefined,
  { trail, zone }: Examination,
): Value | undefined {
  const first = statements?.[0]
  if (statements === undefined || first === undefined) return undefined
  let standing = statements
  if (statements.length > 1 && differ(statements)) {
    trail?.contradict('two different values of one measurement', ...statements.map(({ told }) => told.resource))
    standing = statements.filter((one) => !statements.some((other) => outranks(other.told, one.told, zone)))
    if (differ(standing)) return undefined
  }
  if (trail)
    for (const { told, element } of standing)
      trail.note(field, told.resource, told.rung, element ?? valueElementOf(told))
  return standing[0]?.value
}

/** Whether statements do not all say the same. */
export function differ(statements: readonly Statement<unknown>[]): boolean {
  for (const { value } of statements) if (value !== statements[0]?.value) return true
  return false
}

// A Procedure that counts at all is completed or stopped: nothing more will be written in it.
const settledStatus: ReadonlySet<unknown> = new Set(['final', 'amended', 'corrected', 'completed', 'stopped'])

/** Whether what a resource says is not preliminary. */
export const isFinal = ({ status }: Json): boolean => settledStatus.has(status)

/** Whether one statement stands against another: a final one against one that is not, else the later one. */
export function outranks(
  { resource: one }: Pick<Told, 'resource'>,
  { resource: other }: Pick<Told, 'resource'>,
  zone: string,
): boolean {
  if (isFinal(one) !== isFinal(other)) return isFinal(one)
  const [mine, theirs] = [momentOf(one, zone), momentOf(other, zone)]
  if (mine?.instant !== undefined && theirs?.instant !== undefined) return mine.instant > theirs.instant
  return mine?.date !== undefined && theirs?.date !== undefined && mine.date > theirs.date
}

const momentOf = ({ issued, effectiveDateTime, effectivePeriod }: Json, zone: string) =>
  readMoment(issued ?? effectiveDateTime ?? asObject(effectivePeriod)?.start, zone)
