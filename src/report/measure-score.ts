import type { Quantity } from 'fhir/r4'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { GroupResult } from '../tally/result.ts'
import { ucum } from './codes.ts'
import { absentExtensions, intervalExtension } from './extensions.ts'

/**
 * The score with its interval: 0 to 1 with unit `1` for a proportion, otherwise in the measure's UCUM unit. Without a
 * score there is no value, never 0; the extensions then say why.
 * @throws {RangeError} unless the score is finite
 */
export function measureScore({ scoreUnit }: MeasureDefinition, group: GroupResult): Quantity {
  if (group.score === undefined) return { extension: absentExtensions(group.absentBecause) }
  if (!Number.isFinite(group.score)) throw new RangeError(`measureScore requires a finite number, not ${group.score}`)
  return {
    ...(group.interval ? { extension: [intervalExtension(group.interval)] } : {}),
    value: group.score,
    unit: scoreUnit,
    system: ucum,
    code: scoreUnit,
  }
}
