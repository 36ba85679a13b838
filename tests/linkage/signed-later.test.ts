import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination } from '../stories/examination.ts'

// Everything is read as of an instant: a report signed after it is still open then.
describe('the examination’s own report, signed on 1 April', () => {
  const story = examination({ id: 'a', withdrawalMinutes: 9 }).map((one) =>
    one.id === 'a-report' ? { ...one, issued: '2026-04-01T10:00:00Z' } : one,
  )

  it('leaves everything pending as of 12 March', () => {
    for (const measure of ['adenoma-detection-rate-us-2024', 'withdrawal-time-us-2024'])
      expect(ask(story, '2026-03-12').answer(measure).code).toBe('pending')
  })

  it('settles it as of 2 April', () => {
    expect(ask(story, '2026-04-02').answer('adenoma-detection-rate-us-2024').code).toBe('not-met')
    expect(ask(story, '2026-04-02').answer('withdrawal-time-us-2024')).toEqual({ code: 'met', value: 9 })
  })
})
