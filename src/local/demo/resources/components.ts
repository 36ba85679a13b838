import type { ObservationComponent } from 'fhir/r4'
import type { UnitId } from '../region.ts'
import { quantity } from './codes.ts'
import { term } from './local-terms.ts'

/** Component whose value is a word, or yes or no; none where nothing is said. */
export function told(unit: UnitId, code: string, value: string | boolean | undefined): ObservationComponent[] {
  if (value === undefined) return []
  const said = typeof value === 'boolean' ? { valueBoolean: value } : { valueCodeableConcept: term(unit, value) }
  return [{ code: term(unit, code), ...said }]
}

/** Component whose value is a number of months; one unit writes whole years as years. */
export function interval(unit: UnitId, months: number | undefined): ObservationComponent[] {
  if (months === undefined) return []
  const inYears = unit === 'quernford' && months % 12 === 0
  return [
    {
      code: term(unit, 'advised-interval'),
      valueQuantity: inYears ? quantity(months / 12, 'a') : quantity(months, 'mo'),
    },
  ]
}
