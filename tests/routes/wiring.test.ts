import { describe, expect, it } from 'vitest'
import { ReportableError } from '../../src/errors.ts'
import { wiringReport } from '../wiring/report.ts'
import { appUnderTest, diagnosticsOf, local } from './app-under-test.ts'

const html = { headers: { accept: 'text/html,application/xhtml+xml,*/*;q=0.8' } }
const month = 'periodStart=2026-03&periodEnd=2026-03'

describe('GET /wiring', () => {
  it('asks for the days of the period and answers with JSON', async () => {
    const { get, wiringAsked } = appUnderTest()
    const response = await get(`/wiring?${month}&source=source`)
    expect(response.status).toBe(200)
    expect(response.headers.get('content-type')).toBe('application/json')
    expect(response.headers.get('vary')).toBe('Accept')
    expect(await response.json()).toEqual(wiringReport)
    expect(wiringAsked).toEqual([{ period: { start: '2026-03-01', end: '2026-03-31' }, source: 'source' }])
  })

  it('answers a browser with the same as a page', async () => {
    const response = await appUnderTest().get(`/wiring?${month}`, html)
    const text = await response.text()
    expect(response.status).toBe(200)
    expect(response.headers.get('content-type')).toContain('text/html')
    expect(response.headers.get('content-security-policy')).toContain("default-src 'none'")
    expect(text).toContain('Source harbour')
    expect(text).toContain('href="/wiring/guide#withdrawalMinutes"')
  })

  it('shows a browser that asks nothing the form alone, for the last whole month', async () => {
    const { get, wiringAsked } = appUnderTest()
    // The present is 1 September 2026.
    const text = await (await get('/wiring', html)).text()
    expect(text).toContain('name="periodStart" value="2026-08-01"')
    expect(text).toContain('name="periodEnd" value="2026-08-31"')
    const capped = await (await get('/wiring', html, { ...local, AS_OF: '2026-03-15' })).text()
    expect(capped).toContain('name="periodStart" value="2026-02-01"')
    expect(capped).toContain('name="periodEnd" value="2026-02-28"')
    expect(wiringAsked).toEqual([])
  })

  it('lets _format ask for JSON even from a browser', async () => {
    const response = await appUnderTest().get(`/wiring?${month}&_format=json`, html)
    expect(response.headers.get('content-type')).toBe('application/json')
  })

  it.each([
    ['periodStart=2026-03', 400, 'periodEnd is missing'],
    ['periodStart=2026-03&periodEnd=2026-02', 400, 'after it ends'],
    ['periodStart=2026-13&periodEnd=2026-13', 400, 'not a date that exists'],
    [`${month}&measure=x`, 400, '"measure" is not known here'],
    [`${month}&source=`, 400, 'source is empty'],
  ])('refuses %s, as an outcome and as a page that keeps what was asked', async (query, status, words) => {
    const { get, wiringAsked } = appUnderTest()
    const asJson = await get(`/wiring?${query}`)
    expect(asJson.status).toBe(status)
    expect(await diagnosticsOf(asJson)).toContain(words)
    const asPage = await get(`/wiring?${query}`, html)
    expect(asPage.status).toBe(status)
    const text = (await asPage.text()).replaceAll('&quot;', '"')
    expect(text).toContain(words)
    expect(text).toContain('value="2026-')
    expect(wiringAsked).toEqual([])
  })

  it('tells a fault of the source with its status, and of a bug not a word', async () => {
    const failing = (error: Error) =>
      appUnderTest(undefined, async () => {
        throw error
      })
    const refused = await failing(new ReportableError('source-refused', 'The source refused.')).get(
      `/wiring?${month}`,
      html,
    )
    expect(refused.status).toBe(502)
    expect(await refused.text()).toContain('The source refused.')
    const bug = await failing(new Error('patient 17')).get(`/wiring?${month}`, html)
    expect(bug.status).toBe(500)
    expect(await bug.text()).not.toContain('patient 17')
  })
})

describe('GET /wiring/guide', () => {
  it('is JSON, and a page to a browser', async () => {
    const { get } = appUnderTest()
    const asJson = await get('/wiring/guide')
    expect(asJson.headers.get('content-type')).toBe('application/json')
    const guide = (await asJson.json()) as { groups: { fields: { field: string }[] }[] }
    expect(guide.groups.flatMap(({ fields }) => fields.map(({ field }) => field))).toContain('withdrawalMinutes')
    const asPage = await get('/wiring/guide', html)
    expect(asPage.headers.get('content-type')).toContain('text/html')
    expect(asPage.headers.get('content-security-policy')).toContain("default-src 'none'")
  })

  it('refuses parameters', async () => {
    expect((await appUnderTest().get('/wiring/guide?field=age')).status).toBe(400)
  })
})

describe('access to the wiring', () => {
  it.each(['/wiring', `/wiring?${month}`, '/wiring/guide'])('%s is refused without configured access', async (path) => {
    const { LOCAL_START, ...published } = local
    expect(LOCAL_START).toBe('true')
    expect((await appUnderTest().get(path, html, published)).status).toBe(403)
    expect((await appUnderTest().get(path, {}, { ...published, ACCESS_TOKEN: 'secret' })).status).toBe(401)
    const authorized = { headers: { authorization: 'Bearer secret', accept: 'text/html' } }
    expect((await appUnderTest().get(path, authorized, { ...published, ACCESS_TOKEN: 'secret' })).status).toBe(200)
  })
})
