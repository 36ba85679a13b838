/**
 * How many resources were left out, by reason. Reasons come in the order of their words, so that a report is the same
 * whichever window was read first.
 *
 * @param leftOut each resource once
 */
export function leftOutCounts(leftOut: Iterable<{ readonly reason: string }>): Record<string, number> {
  const counts = new Map<string, number>()
  for (const { reason } of leftOut) counts.set(reason, (counts.get(reason) ?? 0) + 1)
  return Object.fromEntries([...counts].sort(([one], [other]) => (one < other ? -1 : 1)))
}
