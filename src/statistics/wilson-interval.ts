import type { Interval } from './interval.ts'
import { requireTrials, tailArea, usualLevel } from './level.ts'
import { normalQuantile } from './special/normal-quantile.ts'

/**
 * Wilson's score interval for `events` out of `trials`.
 *   centre = (x + z²/2) / (n + z²)
 *   half   = z √(x(n − x)/n + z²/4) / (n + z²)
 * Chosen over the usual ± interval because counts are small and rates may be 0 or 1; for rates far below 1 % its lower
 * limit is too high, so events use `clopperPearsonInterval`.
 * Source: Wilson, J Am Stat Assoc 1927;22:209-212; choice: Newcombe, Stat Med 1998;17:857-872.
 *
 * @throws {RangeError} unless 0 ≤ events ≤ trials, both whole, trials > 0, and 0 < level < 1
 */
export function wilsonInterval(events: number, trials: number, level: number = usualLevel): Interval {
  requireTrials(events, trials, 'wilsonInterval')
  const z = -normalQuantile(tailArea(level, 'wilsonInterval'))
  const centre = events + (z * z) / 2
  const half = z * Math.sqrt((events * (trials - events)) / trials + (z * z) / 4)
  return {
    // At either end the limit is 0 or 1 exactly, and rounding must not take it past the estimate.
    lower: events === 0 ? 0 : (centre - half) / (trials + z * z),
    upper: events === trials ? 1 : (centre + half) / (trials + z * z),
  }
}
