import type { BostonStated } from './boston.ts'
import type { Examination } from './examinations.ts'
import type { EarlierResection } from './segment-presence.ts'

/**
 * Total, and whether every segment that exists is 2 or 3. One segment below 2 decides; so does a stated total by what it leaves
 * for the k segments without a score: less than 2k means one below 2, more than 3k - 2 means none (one of 1 and the others 3
 * make 3k - 2). Three segments alone: false below 6, true from 8, 6 and 7 leave it open.
 */
export function judgeSegments(
  scores: readonly (number | undefined)[],
  present: readonly (boolean | undefined)[],
  { total: statedTotal, totalStatements, segments: heard }: BostonStated,
  { earlierResection }: EarlierResection,
  { trail, lead }: Examination,
): { total: number | undefined; allAtLeast2: boolean | undefined } {
  let sum = 0
  let scored = 0
  let isLow = false
  let most = 0
  let least = 0
  scores.forEach((score, index) => {
    if (score !== undefined) {
      scored++
      sum += score
      isLow ||= score < 2
    } else if (present[index] !== false) {
      most++
      // After a resection nobody names, a segment without a score may be the one that is gone.
      if (earlierResection !== true || present[index] === true) least++
    }
  })
  if (scored === 0) least = Math.max(least, 1)
  const rest = statedTotal === undefined ? undefined : statedTotal - sum
  const isPossible = rest === undefined || (rest >= 0 && rest <= 3 * most)
  if (!isPossible) {
    const resources = [...totalStatements, ...heard.flatMap(({ statements }) => statements)]
    trail?.contradict('Boston total that its segments cannot make', ...resources.map(({ told }) => told.resource))
  }
  if (scored > 0 && most === 0) {
    trail?.note('preparationTotal', lead, 'inferred from the findings', 'Observation.value[x] of the segments')
    trail?.note('segmentsAllAtLeast2', lead, 'inferred from the findings', 'Observation.value[x] of the segments')
    return { total: sum, allAtLeast2: !isLow }
  }
  const total = isPossible ? statedTotal : undefined
  const byTotal =
    !isPossible || rest === undefined ? undefined : rest < 2 * least ? false : rest > 3 * most - 2 ? true : undefined
  const allAtLeast2 = isLow ? false : byTotal
  if (allAtLeast2 !== undefined)
    trail?.note('segmentsAllAtLeast2', lead, 'inferred from the findings', 'Observation.value[x]')
  return { total, allAtLeast2 }
}
