import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { escaped, narrative } from '../../src/report/narrative.ts'
import { detection, notAvailable, results } from './results.ts'
import { xhtmlFaults } from './xhtml.ts'

describe('the check of XHTML itself', () => {
  const root = '<div xmlns="http://www.w3.org/1999/xhtml">'
  it.each([
    `${root}<p>a & b</p></div>`,
    `${root}<p>a</div></p>`,
    `${root}<script>a</script></div>`,
    `${root}<p onclick="x">a</p></div>`,
    `${root}<p>a &nbsp; b</p></div>`,
    `${root}<p>a > b</p></div>`,
    `${root}<p>`,
  ])('finds the fault in %s', (text) => {
    expect(xhtmlFaults(text)).not.toEqual([])
  })
})

describe('the narrative', () => {
  it.each(Object.entries(results))('of %s is well-formed and keeps to the elements FHIR allows', (_, result) => {
    const { status, div } = narrative(result)
    expect(status).toBe('generated')
    expect(xhtmlFaults(div)).toEqual([])
  })

  it('shows names with markup as text', () => {
    const { div } = narrative(detection)
    expect(div).toContain('Coast &lt;&amp; Hills&gt; &quot;Unit&quot;')
    expect(div).toContain('same date twice &amp; &lt;unclear&gt;')
  })

  it('says the figure, what is apart, the last settled day, the standard and the caution', () => {
    const { div } = narrative(detection)
    // 81 of 263 is 30.8 %, interval 25.5 to 36.6 %: Newcombe, Stat Med 1998;17:857-872, Table I, method 3.
    expect(div).toContain('30.8 % (95 % interval 25.5 to 36.6 %, Wilson), 81 of 263 examinations.')
    expect(div).toContain('12 in the denominator, but nothing in the record decides the outcome')
    expect(div).toContain('The figure covers the days through 2026-06-16')
    expect(div).toContain('Standard: US 2024: minimum 35.0 %.')
    expect(div).toContain('not for decisions about a patient')
  })

  it('says what the source could not deliver', () => {
    expect(narrative(notAvailable).div).toContain('Specimen could not be searched by patient.')
  })

  it('is well-formed whatever a name consists of', () => {
    const name = fc.string({ unit: 'binary', minLength: 1 })
    fc.assert(
      fc.property(name, (coast) => {
        expect(xhtmlFaults(narrative({ ...detection, unitNames: { coast } }).div)).toEqual([])
      }),
      { seed: 20260815, numRuns: 200 },
    )
  })

  it('leaves out characters that XML cannot carry', () => {
    expect(escaped('a\u0000b\u000bc\ud800d')).toBe('abc\ufffdd')
  })
})
