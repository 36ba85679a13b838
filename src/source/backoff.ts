const longestMilliseconds = 30_000

/**
 * Milliseconds to wait before the next try. The server's `Retry-After` (RFC 9110, 10.2.3: seconds or a date) is honoured
 * up to 30 s; without a readable one the wait doubles per try from half a second, with jitter so that parallel readers
 * do not return together.
 *
 * @param attempt number of the try that failed, from 1
 * @param random a number in [0, 1)
 * @param now milliseconds since 1970, used where the answer carries no `Date` of its own
 */
export function waitBeforeRetry(attempt: number, headers: Headers | undefined, random: number, now: number): number {
  const asked = headers && retryAfter(headers, now)
  const wait = asked ?? 500 * 2 ** (attempt - 1) * (0.5 + random / 2)
  return Math.min(Math.max(wait, 0), longestMilliseconds)
}

function retryAfter(headers: Headers, now: number): number | undefined {
  const value = headers.get('retry-after')?.trim()
  if (!value) return undefined
  // A header sent twice reads as "2, 7": the longer wait satisfies both.
  if (/^\d+(\s*,\s*\d+)*$/.test(value)) return Math.max(...value.split(',').map(Number)) * 1000
  const until = Date.parse(value)
  if (Number.isNaN(until)) return undefined
  // Counted from the server's own clock, which need not agree with ours.
  const from = Date.parse(headers.get('date') ?? '')
  return until - (Number.isNaN(from) ? now : from)
}
