import { expect, it } from 'vitest'
import { createGate } from '../../src/source/gate.ts'

it('lets no more than the limit run at once, and everything in the end, failures included', async () => {
  const gate = createGate(3)
  let running = 0
  let most = 0
  const work = (index: number) => async (): Promise<number> => {
    running += 1
    most = Math.max(most, running)
    await new Promise((resolve) => setTimeout(resolve, 1))
    running -= 1
    if (index % 5 === 0) throw new Error('failed')
    return index
  }
  const results = await Promise.allSettled(Array.from({ length: 20 }, (_, index) => gate(work(index))))
  expect(most).toBe(3)
  expect(results.filter(({ status }) => status === 'fulfilled')).toHaveLength(16)
  expect(running).toBe(0)
})
