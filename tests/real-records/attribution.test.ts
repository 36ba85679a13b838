import { describe, expect, it } from 'vitest'
import { examine, nationalProvider } from './hospital.ts'
import { load } from './load.ts'

describe('to whom the colonoscopies are attributed', async () => {
  const { records, report } = await examine([...load('synthea'), ...load('from-cda')])

  it('to ten people by identifier, and to nobody in six', () => {
    // Counted in the files: see counted-by-hand.ts. Nobody: jaime-marquez 4, ccd 1, operative-note 1.
    const counts = new Map<string | undefined, number>()
    for (const { operator } of records) counts.set(operator, (counts.get(operator) ?? 0) + 1)
    expect(Object.fromEntries(counts)).toEqual({
      [`${nationalProvider}|9999999889`]: 3,
      [`${nationalProvider}|290`]: 3,
      [`${nationalProvider}|9999999289`]: 1,
      [`${nationalProvider}|9999999819`]: 5,
      [`${nationalProvider}|430`]: 2,
      [`${nationalProvider}|340`]: 2,
      [`${nationalProvider}|9999999969`]: 2,
      [`${nationalProvider}|9999999559`]: 2,
      [`${nationalProvider}|9999999799`]: 1,
      [`${nationalProvider}|unkown`]: 1,
      undefined: 6,
    })
  })

  it('says of each report how many are nobody’s, and has a stratum for them', () => {
    const { whole, practitioners } = report('caecal-intubation-rate-adjusted-uk-2011')
    expect(whole.apart.unattributed).toBe(6)
    expect(practitioners).toHaveLength(11)
    expect(practitioners.filter(({ key }) => key === undefined)).toMatchObject([{ settled: { initialPopulation: 6 } }])
  })

  it('never to an organisation: two of the six name one as their performer', () => {
    const named = records.filter(({ operator }) => operator?.includes('Organization'))
    expect(named).toEqual([])
  })
})
