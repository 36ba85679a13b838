import { describe, expect, it } from 'vitest'
import { accepted } from '../../src/wiring/guide/accepted.ts'
import { appUnderTest } from '../routes/app-under-test.ts'

const { get } = appUnderTest()
const html = { headers: { accept: 'text/html' } }
const text = await (await get('/wiring/guide', html)).text()
const ids = [...text.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id)

describe('the page of the wiring guide', () => {
  it('has an anchor for every fact', () => {
    expect(Object.keys(accepted).filter((name) => !ids.includes(name))).toEqual([])
  })

  it('uses every id once', () => {
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([])
  })

  it('has no link within it that leads nowhere', () => {
    const links = [...text.matchAll(/ href="#([^"]+)"/g)].map(([, id]) => id)
    expect(links.length).toBeGreaterThan(300)
    expect(links.filter((id) => !ids.includes(id))).toEqual([])
  })

  it('needs no script and marks its place', () => {
    expect(text).not.toContain('<script')
    expect(text).toContain('<a href="/wiring/guide" aria-current="page">')
  })

  it('escapes what it shows: the JSON of an example is text', () => {
    expect(text).toContain('&quot;resourceType&quot;: &quot;Observation&quot;')
  })
})
