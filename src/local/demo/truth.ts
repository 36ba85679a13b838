import { accessoryTruth } from './truth/accessory.ts'
import { comfortTruth } from './truth/comfort.ts'
import { completionTruth } from './truth/completion.ts'
import { allOf, type Definitions, type TruthAnswer } from './truth/definition.ts'
import { detectionTruth } from './truth/detection.ts'
import { followUpTruth } from './truth/follow-up.ts'
import { harmTruth } from './truth/harm.ts'
import { lesionsTruth } from './truth/lesions.ts'
import { preparationTruth } from './truth/preparation.ts'
import { recordingTruth } from './truth/recording.ts'
import { therapyTruth } from './truth/therapy.ts'
import { timesTruth } from './truth/times.ts'
import type { TruthRow } from './truth-row.ts'

/**
 * What the measures should say of the demo, counted straight from the truth rows and written from the published
 * definitions. It shares no code with linkage, criteria or tally, so that a mistake there cannot hide here.
 */
const definitions: Definitions = {
  ...accessoryTruth,
  ...comfortTruth,
  ...completionTruth,
  ...detectionTruth,
  ...followUpTruth,
  ...harmTruth,
  ...lesionsTruth,
  ...preparationTruth,
  ...recordingTruth,
  ...therapyTruth,
  ...timesTruth,
}

/** Ids of the measures that can be counted from the truth. */
export const truthMeasures: readonly string[] = Object.keys(definitions)

export interface TruthTold {
  readonly answer: TruthAnswer
  readonly value?: number
  readonly over?: number
}

/**
 * What one examination answers to one measure on 2026-08-15.
 *
 * @throws {RangeError} when the truth of the measure is not written
 */
export function truthAnswer(measure: string, row: TruthRow): TruthTold {
  const definition = definitionOf(measure)
  const eligible = allOf(...definition.eligible(row))
  if (eligible === false) return { answer: 'out' }
  // What a report that is not finished does not say may still come.
  if (eligible === undefined) return { answer: row.report === 'preliminary' ? 'pending' : 'eligibilityNotRecorded' }
  if (definition.excluded?.(row) === true) return { answer: 'excluded' }
  // A report that is not finished settles nothing. The event windows of 30 days have closed for all examinations.
  if (row.report === 'preliminary') return { answer: 'pending' }
  if (definition.histology && row.pathology === 'pending') return { answer: 'pending' }
  if (definition.windowDays !== undefined && isOpen(row, definition.windowDays)) return { answer: 'pending' }
  const over = definition.over?.(row)
  if (definition.value) {
    const met = definition.met?.(row) ?? true
    const value = definition.value(row)
    if (!met) return { answer: 'notMet' }
    if (value === undefined || (definition.over && over === undefined)) return { answer: 'notRecorded' }
    return { answer: 'met', value, ...(over !== undefined && { over }) }
  }
  const met = definition.met ? definition.met(row) : true
  if (met === undefined) return { answer: 'notRecorded' }
  if (met) return { answer: 'met' }
  return { answer: definition.excepted?.(row) === true ? 'excepted' : 'notMet' }
}

/** For whom an examination counts; one undefined where it is for nobody. */
export function truthPersons(measure: string, row: TruthRow): readonly (string | undefined)[] {
  const { persons } = definitionOf(measure)
  return persons ? persons(row) : [row.operator]
}

function definitionOf(measure: string): Definitions[string] {
  const definition = definitions[measure]
  if (definition === undefined) throw new RangeError(`the truth of ${measure} is not written`)
  return definition
}

const asOf = Date.parse('2026-08-15')

/** Days after a window within which the demo’s source may still tell of an event. */
const eventLagDays = 14

/** Whether day so many after the examination, and the lag after it, have not passed. */
const isOpen = ({ date = '' }: TruthRow, days: number): boolean =>
  Date.parse(date) + (days + eventLagDays) * 86_400_000 >= asOf
