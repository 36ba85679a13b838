import type { MeasureReport } from 'fhir/r4'
import { expect, it, onTestFinished } from 'vitest'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { listen } from '../../src/local/fhir-server/listen.ts'
import { createFhirServer } from '../../src/local/fhir-server/server.ts'
import { demoServer } from '../demo/pull-demo.ts'
import { service } from '../end-to-end/service.ts'
import { unitMonth } from '../laws/unit-month.ts'
import { startBuiltWorker } from './built-worker.ts'

const measure = 'adenoma-detection-rate-us-2024'
const month = 'periodStart=2026-06&periodEnd=2026-06'

it('the built worker in workerd answers over real HTTP what the same flow answers in Node', async () => {
  const resources = unitMonth()
  const server = await listen(createFhirServer(resources), 0)
  onTestFinished(() => server.close())
  const worker = await startBuiltWorker({
    SOURCES: JSON.stringify([demoSource(`${server.origin}/fhir`)]),
    AS_OF: '2026-08-15',
    LOCAL_START: 'true',
  })

  const response = await worker.ask(`/fhir/Measure/${measure}/$evaluate-measure?${month}`)
  const { date, ...answered } = (await response.json()) as MeasureReport
  expect(response.status, JSON.stringify(answered)).toBe(200)
  const { date: _, ...expected } = await service(demoServer(resources)).report(measure, month)
  expect(expected.group?.[0]?.population?.[0]?.count).toBeGreaterThan(50)
  expect(answered).toEqual(expected)
  // The date alone is the worker's own clock.
  expect(Math.abs(Date.parse(date ?? '') - Date.now())).toBeLessThan(60_000)

  const page = await worker.ask('/')
  expect(page.status).toBe(200)
  expect(page.headers.get('content-type')).toContain('text/html')
  expect(await page.text()).toMatch(/^<!doctype html>/i)

  const refused = await worker.ask(`/fhir/Measure/${measure}/$evaluate-measure?periodStart=2026-06`)
  expect(refused.status).toBe(400)
  expect(await refused.json()).toMatchObject({ resourceType: 'OperationOutcome', issue: [{ code: 'required' }] })
})
