import { requireRange } from './require-range.ts'

/** Coverage of every interval unless it says otherwise. */
export const usualLevel = 0.95

/**
 * Area left in each tail by a two-sided interval: 0.025 at level 0.95.
 *
 * @throws {RangeError} unless 0 < level < 1
 */
export function tailArea(level: number, method: string): number {
  requireRange(level > 0 && level < 1, method, 'level must be between 0 and 1', level)
  return (1 - level) / 2
}

/** @throws {RangeError} unless 0 ≤ events ≤ trials, both whole, trials > 0 */
export function requireTrials(events: number, trials: number, method: string): void {
  requireRange(
    Number.isSafeInteger(events) && Number.isSafeInteger(trials) && events >= 0 && trials > 0 && events <= trials,
    method,
    'events and trials must be whole, with 0 ≤ events ≤ trials and trials > 0',
    events,
    trials,
  )
}
