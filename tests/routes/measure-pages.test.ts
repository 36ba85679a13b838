import { describe, expect, it } from 'vitest'
import { fieldsOf } from '../../src/measures/fields-of.ts'
import { definitions } from '../stories/ask.ts'
import { appUnderTest } from './app-under-test.ts'

const { get } = appUnderTest(undefined, undefined, definitions)
const page = async (path: string) => {
  const response = await get(path)
  return { status: response.status, text: await response.text() }
}
/** Text as HTML has it. */
const escaped = (text: string) =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')

describe('the page of all measures', () => {
  it('leads to every one of them, and says what is not covered', async () => {
    const { status, text } = await page('/measures')
    expect(status).toBe(200)
    for (const { id, title } of definitions.measures)
      expect(text, id).toContain(`<a href="/measures/${id}">${escaped(title)}</a>`)
    expect(text).toContain('inflammatory bowel disease')
  })

  it('says where a standard is from memory, and that a descriptive measure has none', async () => {
    const { text } = await page('/measures')
    expect(text).toContain('recalled from memory')
    expect(text).toContain('This measure is descriptive: it has no published standard.')
  })
})

describe.each(definitions.measures.map((measure) => [measure.id, measure] as const))(
  'the page of %s',
  (id, measure) => {
    it('is made of its JSON: every population, choice, source and fact stands there, and each link within the measures leads somewhere', async () => {
      const { status, text } = await page(`/measures/${id}`)
      expect(status).toBe(200)
      const { resource } = measure
      const told = [
        resource.title,
        resource.description,
        resource.rationale,
        resource.disclaimer,
        ...(resource.group?.[0]?.population ?? []).flatMap(({ description, criteria }) => [
          description,
          criteria.expression,
        ]),
        ...(resource.relatedArtifact ?? []).map(({ citation }) => citation),
        ...(resource.extension ?? []).flatMap(({ extension = [] }) => extension.map(({ valueString }) => valueString)),
      ].filter((one): one is string => one !== undefined && !/^sex=/.test(one))
      for (const one of told) expect(text).toContain(escaped(one))
      for (const field of fieldsOf(measure)) expect(text).toContain(`href="/wiring/guide#${field}"`)
      const published = new Set(definitions.measures.map((one) => one.id))
      const linked = [...text.matchAll(/href="\/measures\/([^"]+)"/g)].map(([, other]) => other)
      expect(linked.filter((other) => !published.has(other ?? ''))).toEqual([])
    })
  },
)

describe('the page of a measure', () => {
  it('says how complete its facts are', async () => {
    const { text } = await page('/measures/adenoma-detection-rate-us-2024')
    expect(text).toContain('9 of 10, 90 %')
  })

  it('says that a measure is not there', async () => {
    expect((await page('/measures/no-such-measure')).status).toBe(404)
  })
})
