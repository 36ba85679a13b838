import { describe, expect, it } from 'vitest'
import { structure } from '../../src/fhir/canonical.ts'
import { extensionFaults } from './own-extensions.ts'

const settled = { url: structure('settled-through'), valueDate: '2026-06-30' }
const apart = (...extension: object[]) => ({ url: structure('apart'), extension })
const reason = { url: 'reason', valueCode: 'pending' }

describe('the check of our extensions', () => {
  it('accepts one in its place with its type', () => {
    expect(extensionFaults({ extension: [settled] }, 'MeasureReport')).toEqual([])
  })

  it.each([
    ['that is not published', { extension: [{ url: structure('colour'), valueCode: 'red' }] }, 'is not published'],
    ['out of place', { group: [{ extension: [settled] }] }, 'may not stand on MeasureReport.group'],
    ['of another type', { extension: [{ url: settled.url, valueString: '2026' }] }, 'not valueDate'],
    ['without a part', { group: [{ extension: [apart(reason)] }] }, 'has 0 of count'],
    ['with a part too many', { group: [{ extension: [apart(reason, reason)] }] }, 'has 2 of reason'],
    ['with an unknown part', { group: [{ extension: [apart({ url: 'x', valueCode: 'y' })] }] }, 'has no part x'],
  ])('finds one %s', (_, resource, fault) => {
    expect(extensionFaults(resource, 'MeasureReport').join('\n')).toContain(fault)
  })
})
