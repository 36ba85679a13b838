import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Collection, namesIn, read } from './load.ts'

const collections: Collection[] = ['synthea', 'from-cda', 'fhir-specification']
const rows = readFileSync('fixtures/real-records/README.md', 'utf8')
  .split('\n')
  .filter((line) => /^\| [a-z-]+\/\S+\.json \|/.test(line))
  .map((line) => line.split('|').map((cell) => cell.trim()))
const sources = new Map(
  rows.map(([, file = '', repository, path, commit, licence, state]) => [
    file,
    { repository, path, commit, licence, state },
  ]),
)
const stripped = [...sources].filter(([, { state }]) => state === 'stripped').map(([file]) => file)

describe('records that others wrote', () => {
  it('each have a source, a commit and a licence that allows copying', () => {
    const files = collections.flatMap((collection) => namesIn(collection).map((name) => `${collection}/${name}.json`))
    expect([...sources.keys()].sort()).toEqual(files.sort())
    for (const source of sources.values())
      expect(source).toEqual({
        repository: expect.stringMatching(/^[\w.-]+\/[\w.-]+$/),
        path: expect.stringMatching(/\.json$/),
        commit: expect.stringMatching(/^[0-9a-f]{40}$/),
        licence: expect.stringMatching(/^(Apache-2\.0|MIT|CC0-1\.0)$/),
        state: expect.stringMatching(/^(whole|stripped)$/),
      })
  })

  it('are stripped of whole types of resource only, in eight files', () => {
    const kept =
      /^(Patient|Organization|Practitioner|Encounter|Condition|Observation|DiagnosticReport|Procedure|Device)$/
    expect(stripped).toHaveLength(8)
    for (const file of stripped) {
      const bundle = read('synthea', file.replace(/^synthea\/|\.json$/g, ''))
      if (bundle.resourceType !== 'Bundle') throw new TypeError(`${file} is no Bundle`)
      for (const { resource } of bundle.entry ?? []) expect(resource?.resourceType).toMatch(kept)
    }
  })
})
