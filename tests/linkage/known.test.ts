import fc from 'fast-check'
import { expect, it } from 'vitest'
import { isKnownBy } from '../../src/fhir/dates.ts'
import { isKnownYet } from '../../src/linkage/known.ts'

// The short way of telling that a date lies well before an instant must agree with the full reading of it, in the zones
// farthest from UTC too (IANA time zone database: Kiritimati is 14 hours ahead, Pago Pago 11 behind).
it('what is issued is known from the same instant on as by a full reading of its date', () => {
  const written = fc
    .tuple(
      fc.integer({ min: -4 * 24 * 60, max: 4 * 24 * 60 }),
      fc.constantFrom('Z', '+14:00', '-11:00', 'none', 'date', 'month', 'odd'),
    )
    .map(([minutes, form]) => {
      const text = new Date(Date.UTC(2026, 5, 1) + minutes * 60_000).toISOString()
      const cut = {
        none: text.slice(0, 19),
        date: text.slice(0, 10),
        month: text.slice(0, 7),
        odd: ` ${text}`,
        Z: text,
      }
      return form in cut ? cut[form as keyof typeof cut] : `${text.slice(0, 19)}${form}`
    })
  const zones = fc.constantFrom('UTC', 'Pacific/Kiritimati', 'Pacific/Pago_Pago', 'Europe/London')
  const instants = fc.integer({ min: -2 * 24 * 60, max: 2 * 24 * 60 })
  let unknown = 0
  fc.assert(
    fc.property(written, zones, instants, (issued, zone, minutes) => {
      const asOf = Date.UTC(2026, 5, 1) + minutes * 60_000
      const known = isKnownBy(issued, asOf, zone)
      if (!known) unknown++
      expect(isKnownYet({ issued }, asOf, zone)).toBe(known)
      expect(isKnownYet({ effectiveDateTime: issued }, asOf, zone)).toBe(known)
      expect(isKnownYet({ effectivePeriod: { start: issued } }, asOf, zone)).toBe(known)
    }),
    { seed: 20261125, numRuns: 3000 },
  )
  expect(unknown).toBeGreaterThan(500)
})
