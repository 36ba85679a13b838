import { beforeAll, describe, expect, it } from 'vitest'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { accepted } from '../../src/wiring/guide/accepted.ts'
import type { Way } from '../../src/wiring/guide/way.ts'
import type { SourceWiring, WiringReport } from '../../src/wiring/report.ts'
import { rememberingDemo, service } from './service.ts'

const { get } = service(rememberingDemo())
const query = '/wiring?periodStart=2026-03-01&periodEnd=2026-03-31'
let report: WiringReport

beforeAll(async () => {
  const response = await get(query)
  expect(response.status).toBe(200)
  report = (await response.json()) as WiringReport
})

const wiring = (): SourceWiring => {
  const [only, ...more] = report.sources
  if (only === undefined || more.length > 0) throw new Error(`${report.sources.length} sources`)
  return only
}

describe('the wiring of the demo', () => {
  it('counts the examinations that the truth of the demo counts', () => {
    const told = generateDemo().truth.filter(
      ({ kind, date }) => kind === 'examination' && date !== undefined && date >= '2026-03-01' && date <= '2026-03-31',
    )
    expect(told.length).toBeGreaterThan(50)
    expect(wiring().examinations).toBe(told.length)
  })

  it('goes no way that the guide does not list', () => {
    const ways: Readonly<Record<string, readonly Way[]>> = accepted
    const gone = wiring().fields.flatMap(({ field, ways: ofField }) => ofField.map((way) => ({ field, ...way })))
    expect(gone.length).toBeGreaterThan(50)
    const unlisted = gone.filter(
      ({ field, element, rung }) =>
        !ways[field]?.some(({ elements, rungs }) => elements.includes(element) && rungs.some((one) => one === rung)),
    )
    expect(unlisted).toEqual([])
  })

  it('names no patient: what it shows of records is references', () => {
    const patients = generateDemo().resources.filter(({ resourceType }) => resourceType === 'Patient')
    const names = patients.flatMap((one) => ('name' in one && Array.isArray(one.name) ? one.name : []))
    const families = names.flatMap((name) =>
      typeof name === 'object' && 'family' in name ? [String(name.family)] : [],
    )
    const shown = JSON.stringify(report)
    expect(families.filter((family) => shown.includes(family))).toEqual([])
  })

  it('is a page for a browser', async () => {
    const response = await get(query, { headers: { accept: 'text/html' } })
    expect(response.headers.get('content-type')).toContain('text/html')
    expect(await response.text()).toContain(`${wiring().examinations} examinations.`)
  })
})
