import { describe, expect, it } from 'vitest'
import { recordedAge } from '../../src/local/demo/patients.ts'

describe('recordedAge', () => {
  it.each([
    ['1960-05-10', '2025-05-09', 64],
    ['1960-05-10', '2025-05-10', 65],
    ['1960-02-29', '2025-02-28', 64],
    ['1960-02-29', '2025-03-01', 65],
    ['1960-05', '2025-04-30', 64],
    ['1960-05', '2025-06-01', 65],
    ['1960-05', '2025-05-31', 65],
    ['1960', '2025-12-31', 65],
  ])('born %s, examined %s: %i', (birth, date, years) => {
    expect(recordedAge(birth, date)).toBe(years)
  })

  it.each([
    ['1960-05', '2025-05-10'],
    ['1960', '2025-06-30'],
    [undefined, '2025-06-30'],
  ])('born %s, examined %s: the record does not decide it', (birth, date) => {
    expect(recordedAge(birth, date)).toBeUndefined()
  })
})
