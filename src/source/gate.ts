/** Runs a piece of work once fewer than the limit are running; the others wait in order of arrival. */
export type Gate = <Result>(work: () => Promise<Result>) => Promise<Result>

/** @returns a gate that lets `limit` pieces of work run at once, so that a window never floods its source */
export function createGate(limit: number): Gate {
  let running = 0
  const waiting: (() => void)[] = []
  return async (work) => {
    if (running < limit) running += 1
    else await new Promise<void>((admit) => waiting.push(admit))
    try {
      return await work()
    } finally {
      // A finished piece hands its place straight to the next, so the count changes only when nobody waits.
      const next = waiting.shift()
      if (next) next()
      else running -= 1
    }
  }
}
