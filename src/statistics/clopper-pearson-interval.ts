import type { Interval } from './interval.ts'
import { requireTrials, tailArea, usualLevel } from './level.ts'
import { betaQuantile } from './special/beta-quantile.ts'

/**
 * Exact binomial interval for `events` out of `trials`.
 *   lower = α/2 quantile of Beta(x, n − x + 1), 0 when x = 0
 *   upper = 1 − α/2 quantile of Beta(x + 1, n − x), 1 when x = n
 * Its coverage is never below the level, so it is wide; chosen for rare events and for none at all, where "up to 12 per
 * 1,000 cannot be ruled out" has to hold.
 * Source: Clopper and Pearson, Biometrika 1934;26:404-413.
 *
 * @throws {RangeError} unless 0 ≤ events ≤ trials, both whole, trials > 0, and 0 < level < 1
 */
export function clopperPearsonInterval(events: number, trials: number, level: number = usualLevel): Interval {
  requireTrials(events, trials, 'clopperPearsonInterval')
  const area = tailArea(level, 'clopperPearsonInterval')
  return {
    lower: events === 0 ? 0 : betaQuantile(area, events, trials - events + 1),
    upper: events === trials ? 1 : betaQuantile(area, events + 1, trials - events, 'upper'),
  }
}
