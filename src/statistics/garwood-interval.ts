import type { Interval } from './interval.ts'
import { tailArea, usualLevel } from './level.ts'
import { requireRange } from './require-range.ts'
import { gammaQuantile } from './special/gamma-quantile.ts'

/**
 * Exact interval for the rate of a Poisson count of `events` over an `exposure` (in whatever unit the rate is per).
 *   lower = α/2 quantile of Gamma(x) ÷ exposure, 0 when x = 0
 *   upper = 1 − α/2 quantile of Gamma(x + 1) ÷ exposure
 * For events per examination, of which each has one or none, use `clopperPearsonInterval`; this one is for counts that
 * can exceed their exposure.
 * Source: Garwood, Biometrika 1936;28:437-442.
 *
 * @throws {RangeError} unless events is whole and not negative, exposure is finite and above 0, and 0 < level < 1
 */
export function garwoodInterval(events: number, exposure: number, level: number = usualLevel): Interval {
  requireRange(
    Number.isSafeInteger(events) && events >= 0,
    'garwoodInterval',
    'events must be whole and not negative',
    events,
  )
  requireRange(
    exposure > 0 && Number.isFinite(exposure),
    'garwoodInterval',
    'exposure must be finite and above 0',
    exposure,
  )
  const area = tailArea(level, 'garwoodInterval')
  return {
    lower: events === 0 ? 0 : gammaQuantile(area, events) / exposure,
    upper: gammaQuantile(area, events + 1, 'upper') / exposure,
  }
}
