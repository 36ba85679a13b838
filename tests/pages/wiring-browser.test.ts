import { type Browser, chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { appUnderTest } from '../routes/app-under-test.ts'
import { chromiumOptions } from './chromium.ts'
import { serve } from './served.ts'

let browser: Browser
let page: Page
let served: Awaited<ReturnType<typeof serve>>
const complaints: string[] = []

beforeAll(async () => {
  const { get } = appUnderTest()
  served = await serve({ request: (url, init) => get(url.replace(/^http:\/\/localhost/, ''), init) })
  browser = await chromium.launch(chromiumOptions)
  page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
  page.on('console', (message) => complaints.push(message.text()))
  page.on('pageerror', (error) => complaints.push(error.message))
  page.on('requestfailed', (request) => complaints.push(request.url()))
})

afterAll(async () => {
  await browser?.close()
  await served?.close()
})

const asked = '/wiring?periodStart=2026-03-01&periodEnd=2026-03-31'

describe('the wiring report in a browser', () => {
  it('starts with the form, and shows the report when that is sent by the keyboard', async () => {
    await page.goto(`${served.address}/wiring`)
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('How the records fit')
    expect(await page.getByRole('table').count()).toBe(0)
    await page.getByLabel('First day').fill('2026-03-01')
    await page.getByLabel('Last day').fill('2026-03-31')
    await page.getByRole('button', { name: 'Look at the wiring' }).press('Enter')
    await page.waitForURL(/periodStart=2026-03-01/)
    expect(await page.getByRole('table', { name: 'Facts of the record' }).isVisible()).toBe(true)
    expect(await page.getByText('Withdrawal <time>').isVisible()).toBe(true)
    expect(complaints).toEqual([])
  })

  it('leads from a fact to its place in the guide', async () => {
    await page.goto(served.address + asked)
    await page.getByRole('link', { name: 'withdrawalMinutes' }).click()
    await page.waitForURL(/\/wiring\/guide#withdrawalMinutes$/)
    const place = await page.locator('#withdrawalMinutes').boundingBox()
    expect(place?.y).toBeGreaterThanOrEqual(-1)
    expect(place?.y).toBeLessThan(800)
  })
})

describe('the wiring guide in a browser', () => {
  it('opens an example without any script', async () => {
    await page.goto(`${served.address}/wiring/guide#withdrawalMinutes`)
    const fact = page.locator('#withdrawalMinutes')
    expect(await fact.locator('pre').first().isVisible()).toBe(false)
    await fact.locator('summary').press('Enter')
    expect(await fact.locator('pre').first().isVisible()).toBe(true)
    expect(complaints).toEqual([])
  })

  it('has one heading of the first level, and marks the current place for those who do not see it', async () => {
    await page.goto(`${served.address}/wiring/guide`)
    expect(await page.getByRole('heading', { level: 1 }).count()).toBe(1)
    const places = page.getByRole('navigation', { name: 'Places' })
    expect(await places.locator('[aria-current=page]').textContent()).toBe('Wiring guide')
    expect(await places.getByRole('link').count()).toBe(4)
  })

  it.each([1280, 768, 375])('neither page scrolls sideways at %i px', async (width) => {
    await page.setViewportSize({ width, height: 800 })
    for (const path of ['/wiring', asked, '/wiring/guide']) {
      await page.goto(served.address + path)
      expect(await page.evaluate('document.documentElement.scrollWidth'), path).toBeLessThanOrEqual(width)
    }
  })

  it('fits a printed A4 page', async () => {
    // 210 mm less two margins of 16 mm, at 96 pixels per inch.
    await page.setViewportSize({ width: 672, height: 1000 })
    await page.goto(`${served.address}/wiring/guide`)
    await page.emulateMedia({ media: 'print' })
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(672)
    expect(await page.getByRole('navigation', { name: 'Contents' }).isVisible()).toBe(false)
    await page.emulateMedia({ media: 'screen' })
  })
})
