import { describe, expect, it } from 'vitest'
import { ReportableError } from '../../src/errors.ts'
import { pages } from '../../src/pages/pages.tsx'
import { harbour, intubation, perforation, unsettled } from './results.ts'
import { pagesOver } from './served.ts'

async function page(path: string, { app } = pagesOver()) {
  const response = await app.request(path)
  return { status: response.status, headers: response.headers, text: spaced(await response.text()) }
}
const spaced = (text: string): string => text.replaceAll('\u00a0', ' ').replaceAll('&nbsp;', ' ')

/** Text of each cell of each row of the table's body. */
function bodyCells(text: string): string[][] {
  const [body = ''] = /<tbody>.*<\/tbody>/s.exec(text) ?? []
  return [...body.matchAll(/<tr.*?<\/tr>/gs)].map(([row]) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell = '']) => cell.replace(/<[^>]+>/g, '').trim()),
  )
}

describe('the first page', () => {
  it('asks the core for the measure, the unit and the days of the months chosen', async () => {
    const served = pagesOver()
    await page('/?measure=caecal-intubation-rate-uk-2016&unit=harbour&from=2026-02&to=2026-04', served)
    expect(served.requests).toEqual([
      { measure: intubation.measure, unit: 'harbour', period: { start: '2026-02-01', end: '2026-04-30' } },
    ])
  })

  it('answers in one sentence, with the period and the last settled day', async () => {
    const { status, text } = await page('/')
    expect(status).toBe(200)
    expect(text).toContain('318 of 846 examinations met the measure: 37.6 % (95 % interval 34.4 to 40.9 %).')
    expect(text).toContain('Harbour Unit, 1 January to 30 June 2026; rates cover the days through 9 June 2026')
    expect(text).toContain('15 August 2026, 22:59 UTC')
  })

  it('lists every group in the table with its counts, and why where there is no rate', async () => {
    const cells = bodyCells((await page('/')).text)
    expect(cells).toHaveLength(12)
    // 62 of 141 is 43.97 %. Columns: rate, met, counted, then what stands apart.
    expect(cells[1]).toEqual([
      'HB-204',
      expect.stringMatching(/^44\.0 %/),
      '62',
      '141',
      '0',
      '0',
      '0',
      '0',
      '2',
      '0',
      '3',
      '0',
      '15',
    ])
    expect(cells[10]?.slice(0, 2)).toEqual(['HB-601', 'No rate: no examination in the denominator'])
    expect(cells[11]?.slice(0, 4)).toEqual(['Unattributed', expect.stringMatching(/^27\.3 %/), '3', '11'])
  })

  it('shows bounds in place of the rate where too much is not recorded', async () => {
    const cells = bodyCells((await page('/')).text)
    // 30/96 and 42/96: 31.25 % and 43.75 %.
    expect(cells[6]?.[1]).toMatch(/^31\.3 to 43\.8 % bounds/)
    expect(cells[6]?.[1]).not.toContain('35.7')
  })

  it('counts everything that stands apart, with the reason', async () => {
    const { text } = await page('/')
    for (const [reason, count] of Object.entries(harbour.whole.apart)) {
      expect(text, reason).toContain(`<span class="count">${count}</span>`)
    }
    expect(text).toContain('<span class="count">125</span> <span>excluded by the measure</span>')
    expect(text).toContain('<span class="count">3</span> <span>left out: date missing</span>')
  })

  it('names the standard with its source, and says when it is from memory', async () => {
    const { text } = await page('/')
    expect(text).toContain('US 2024: minimum 35.0 %.')
    expect(text).toContain('Am J Gastroenterol 2024;119(9):1754-1780')
    expect(text).not.toContain('figures are from memory')
    const remembered = { ...harbour.measure, standard: { name: 'Recalled', minimum: 0.25, fromMemory: true } }
    const results = new Map([[harbour.measure.id, { ...harbour, measure: remembered }]])
    expect((await page('/', pagesOver(results))).text).toContain('The standard’s figures are from memory')
  })

  it('says how events become known', async () => {
    const { text } = await page(`/?measure=${perforation.measure.id}`)
    expect(text).toContain('those treated elsewhere are missed')
    expect(text).toContain('0.67 per 1,000')
  })

  it('has a drawing with a title, a description and the standard in words', async () => {
    const { text } = await page('/')
    expect(text).toMatch(/<svg[^>]*role="img"[^>]*aria-labelledby="chart-title chart-description"/)
    expect(text).toMatch(/<svg[^>]*class="chart".*<title id="chart-title">Adenoma detection rate \(US 2024\)/s)
    expect(text).toContain('12 rows on one scale from 0.0 % to 60.0 %.')
    expect(text).toContain('>Minimum standard 35.0 %</text>')
    // HB-331: 27 of 118 is 22.881 % of a scale that ends at 60 %, hence 38.136 % of the width.
    expect(text).toContain('<circle class="point" cx="38.136%"')
  })

  it('says that rows are not ranked, that keys stand for people, and what the figures are for', async () => {
    const { text } = await page('/')
    expect(text).toContain('never ranked by rate')
    expect(text).toContain('Practitioners appear by their configured keys, never by name.')
    expect(text).toContain('not for decisions about a patient. Local policy and licensed practice come first.')
  })

  it('gives no rate and no drawing when nothing is settled, but the bounds that hold already', async () => {
    const { text } = await page('/?unit=moor')
    expect(text).toContain('There is no rate to read.')
    expect(text).toContain('somewhere from 10.0 to 45.0 %')
    expect(text).not.toContain('class="chart"')
    expect(bodyCells(text)[0]?.[1]).toBe('No rate: nothing settled yet')
  })

  it('warns when the source could not deliver everything', async () => {
    const results = new Map([[unsettled.measure.id, { ...unsettled, incomplete: ['Specimen could not be searched.'] }]])
    expect((await page('/', pagesOver(results))).text).toContain(
      'The source could not deliver everything.</strong> Specimen could not be searched.',
    )
  })
})

describe('a question that cannot be answered', () => {
  it.each([
    ['/?measure=polyp-rate', 'There is no measure “polyp-rate”'],
    ['/?unit=south', 'There is no unit “south”'],
    ['/?from=2026-07&to=2026-01', 'lies after the last, 2026-01'],
    ['/?practitioner=HB-204', '“practitioner” cannot be asked of this page'],
  ])('%s is told in the page, with status 400 and the form as filled in', async (path, message) => {
    const served = pagesOver()
    const { status, text } = await page(path, served)
    expect(status).toBe(400)
    expect(text).toContain('role="alert"')
    expect(text).toContain(message)
    expect(text).toContain('<form')
    expect(served.requests).toEqual([])
  })

  it.each([
    [new ReportableError('source-unreachable', 'The source does not answer.'), 502, 'The source does not answer.'],
    [new Error('patient 4711 has no name'), 500, 'An unexpected fault inside the service.'],
  ])('%s keeps its status, and only words that were written for the reader', async (fault, status, message) => {
    const app = pages({
      definitions: { measures: [harbour.measure] },
      units: [],
      latestAsOf: '2026-08-15T00:00:00Z',
      evaluate: () => Promise.reject(fault),
    })
    const answer = await page('/', { app, requests: [] })
    expect(answer.status).toBe(status)
    expect(answer.text).toContain(message)
    expect(answer.text).not.toContain('4711')
  })
})

describe('text from outside', () => {
  it.each([
    ['/?measure=%3Cscript%3Ealert(1)%3C%2Fscript%3E'],
    ['/?from=%22%3E%3Cscript%3Ealert(1)%3C%2Fscript%3E'],
    ['/?%3Cscript%3E=1'],
  ])('of the address %s stays text', async (path) => {
    const { text } = await page(path)
    expect(text).not.toContain('<script')
    expect(text).toContain('&lt;script')
  })

  it('of the record stays text: names, keys, reasons, sentences', async () => {
    const bad = '"><script>alert(1)</script>'
    const results = new Map([
      [
        harbour.measure.id,
        {
          ...harbour,
          scope: { unit: { id: bad, name: bad, match: {} } },
          practitioners: [{ ...harbour.whole, key: `x|${bad}` }],
          leftOut: { [bad]: 1 },
          incomplete: [bad],
        },
      ],
    ])
    const { text } = await page('/', pagesOver(results))
    expect(text).not.toContain('<script')
    expect(text.match(/&lt;script/g)?.length).toBeGreaterThan(4)
  })

  it('cannot run or load anything, by the policy that is sent', async () => {
    const { headers } = await page('/')
    expect(headers.get('Content-Security-Policy')).toContain("default-src 'none'")
    expect(headers.get('Content-Security-Policy')).not.toContain('script-src')
  })
})
