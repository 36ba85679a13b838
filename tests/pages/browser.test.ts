import { type Browser, chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { chromiumOptions } from './chromium.ts'
import { pagesOver, serve } from './served.ts'

let browser: Browser
let page: Page
let served: Awaited<ReturnType<typeof serve>>
const complaints: string[] = []

beforeAll(async () => {
  served = await serve(pagesOver().app)
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

describe('the first page in a browser', () => {
  it('shows drawing and table, loads nothing else, and has nothing to complain about', async () => {
    const requested: string[] = []
    const note = (request: { url: () => string }) => requested.push(request.url())
    page.on('request', note)
    await page.goto(served.address)
    page.off('request', note)
    expect(await page.getByRole('img', { name: /Adenoma detection rate/ }).isVisible()).toBe(true)
    expect(await page.getByRole('table').getByRole('rowheader').count()).toBe(12)
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Adenoma detection rate (US 2024)')
    expect(requested.filter((url) => !url.startsWith('data:'))).toEqual([`${served.address}/`])
    expect(complaints).toEqual([])
  })

  it('draws the dots where the scale says', async () => {
    await page.goto(served.address)
    const drawing = await page.locator('svg.chart').boundingBox()
    const dot = await page.locator('svg.chart .practitioner circle').nth(2).boundingBox()
    // HB-331, third by volume: 27 of 118 on a scale that ends at 60 %.
    const share = ((dot?.x ?? 0) + (dot?.width ?? 0) / 2 - (drawing?.x ?? 0)) / (drawing?.width ?? 1)
    expect(share).toBeCloseTo(27 / 118 / 0.6, 2)
  })

  it('reaches every control by the keyboard, in reading order, and asks by Enter', async () => {
    await page.goto(served.address)
    const reached: string[] = []
    for (let press = 0; press < 18; press++) {
      await page.keyboard.press('Tab')
      reached.push(
        await page.evaluate(
          'document.activeElement.name || document.activeElement.className || document.activeElement.tagName',
        ),
      )
    }
    const order = [...new Set(reached)]
    expect(order.slice(0, 2)).toEqual(['skip', 'A'])
    expect(
      order.filter((name) => ['measure', 'unit', 'from', 'to', 'BUTTON', 'frame', 'SUMMARY'].includes(name)),
    ).toEqual(['measure', 'unit', 'from', 'to', 'BUTTON', 'frame', 'SUMMARY'])
    await page.selectOption('select[name=measure]', 'caecal-intubation-rate-uk-2016')
    await page.getByRole('button', { name: 'Show' }).press('Enter')
    await page.waitForURL(/measure=caecal-intubation-rate-uk-2016/)
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toContain('Caecal intubation rate')
  })

  it.each([1280, 768, 375])('does not scroll sideways at %i px', async (width) => {
    await page.setViewportSize({ width, height: 800 })
    for (const path of ['/', '/?measure=caecal-intubation-rate-uk-2016', '/?unit=moor', '/?from=2026-07&to=2026-01']) {
      await page.goto(served.address + path)
      expect(await page.evaluate('document.documentElement.scrollWidth'), path).toBeLessThanOrEqual(width)
    }
  })

  it('fits a printed A4 page, without the form and with the whole table', async () => {
    // 210 mm less two margins of 16 mm, at 96 pixels per inch.
    await page.setViewportSize({ width: 672, height: 1000 })
    await page.goto(served.address)
    await page.emulateMedia({ media: 'print' })
    expect(await page.locator('form').isVisible()).toBe(false)
    const table = await page.getByRole('table').boundingBox()
    expect((table?.x ?? 0) + (table?.width ?? Number.POSITIVE_INFINITY)).toBeLessThanOrEqual(672)
    await page.emulateMedia({ media: 'screen' })
  })
})
