import { spawnSync } from 'node:child_process'
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Measure } from 'fhir/r4'
import { describe, expect, it, onTestFinished } from 'vitest'
import { buildDefinitions } from '../../src/local/build-definitions.ts'
import { compileMeasure } from '../../src/measures/compiled-measure.ts'
import type { Definitions } from '../../src/measures/definitions.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { answerOf } from '../../src/tally/answer-of.ts'
import { definitions as published } from '../stories/ask.ts'

function emptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'measures-'))
  onTestFinished(() => rmSync(folder, { recursive: true }))
  return folder
}

/** A site's own measure, of nothing that is among the published ones: comfort, on the scale from 1 to 5. */
const comfortable = measureOf('comfortable-examinations-site', {
  'initial-population': 'true',
  denominator: "comfortScale = 'one-to-five'",
  'denominator-exclusion': "setting = 'emergency'",
  numerator: 'comfortScore <= 3',
})

function measureOf(id: string, criteria: Readonly<Record<string, string>>): Measure {
  return {
    resourceType: 'Measure',
    id,
    url: `https://site.example/fhir/Measure/${id}`,
    version: '0.1.0',
    title: 'Examinations that were comfortable',
    status: 'draft',
    scoring: { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/measure-scoring', code: 'proportion' }] },
    group: [
      {
        population: Object.entries(criteria).map(([code, expression]) => ({
          code: { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/measure-population', code }] },
          criteria: { language: 'text/fhirpath', expression },
        })),
      },
    ],
  }
}

/** A folder of one file each. */
function siteFolder(files: Readonly<Record<string, unknown>>): string {
  const folder = emptyFolder()
  for (const [name, content] of Object.entries(files))
    writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content))
  return folder
}

/** Runs the build step as `npm run build` does, with its output in a folder of its own. */
function runBuild(site: string) {
  const output = emptyFolder()
  const { status, stderr } = spawnSync(
    process.execPath,
    ['--import', './src/local/require-node.mjs', '--experimental-strip-types', 'src/local/build.ts'],
    { env: { ...process.env, MEASURES_DIR: site, BUILD_DIR: output, NODE_NO_WARNINGS: '1' }, encoding: 'utf8' },
  )
  return { status, lines: stderr.trim().split('\n'), output }
}

describe('the build step refuses', () => {
  const broken = (population: string, expression: string): Measure =>
    measureOf('comfortable-examinations-site', { ...criteriaOf(comfortable), [population]: expression })
  const named = (id: string, measure: Measure): Measure => ({ ...measure, id, url: `https://site.example/${id}` })

  it('all that is wrong in a site’s folder at once, with file, population and place, and writes nothing', () => {
    const site = siteFolder({
      'a-json.json': '{ "resourceType": "Measure", ',
      'b-field.json': named('b', broken('numerator', 'comfortScore <= 3 and comfrotScore > 0')),
      'c-word.json': named('c', broken('denominator-exclusion', "setting = 'emergancy'")),
      'd-refused.json': named('d', broken('denominator', 'now() > @2026-01-01')),
      'e-types.json': named('e', broken('numerator', "comfortScore = 'good'")),
      'f-number.json': named('f', broken('numerator', 'comfortScore')),
      'g-taken.json': { ...comfortable, id: 'withdrawal-time-us-2024' },
      'h-list.json': [],
    })
    const { status, lines, output } = runBuild(site)
    expect(status).toBe(1)
    expect(readdirSync(output)).toEqual([])
    const [heading, ...faults] = lines
    expect(heading).toBe('The measures cannot be built:')
    const at = (name: string) => `  ${join(site, name)}: `
    const told = (name: string) =>
      faults.filter((line) => line.startsWith(at(name))).map((l) => l.slice(at(name).length))
    expect(told('a-json.json')).toEqual([expect.stringMatching(/^not JSON: /)])
    expect(told('b-field.json')).toEqual([expect.stringMatching(/^numerator: .*comfrotScore.*\(line 1, column 23\)$/)])
    expect(told('c-word.json')).toEqual([
      expect.stringMatching(/^denominator-exclusion: .*emergancy.*\(line 1, column 11\)$/),
    ])
    expect(told('d-refused.json')).toEqual([expect.stringMatching(/^denominator: now\(\) is not accepted.*\(line 1, /)])
    expect(told('e-types.json')).toEqual([expect.stringMatching(/^numerator: = compares unlike things.*\(line 1, /)])
    expect(told('f-number.json')).toEqual([expect.stringMatching(/^numerator: the expression must yield /)])
    expect(told('g-taken.json')).toEqual([
      'the id Measure/withdrawal-time-us-2024 is used twice: measures/Measure-withdrawal-time-us-2024.json has it too',
    ])
    expect(told('h-list.json')).toEqual(['not a FHIR resource: resourceType and id are needed'])
    expect(faults).toHaveLength(8)
  })

  it.each([
    ['a folder that is not there', 'nowhere', /^nowhere: the folder cannot be read: /],
    ['a measure without populations', { ...comfortable, group: [] }, /a\.json: group: exactly one group/],
    ['a population twice', doubled(comfortable), /a\.json: numerator: exactly one such population/],
    [
      'elements of other types than FHIR gives them',
      { ...comfortable, group: [{ population: 3 }] },
      /a\.json: not a Measure/,
    ],
    ['another language', inCql(comfortable), /a\.json: numerator: a criterion needs language text\/fhirpath/],
    ['a scoring that is not counted', { ...comfortable, scoring: {} }, /a\.json: scoring: scoring \(none\)/],
    [
      'the address of another measure',
      { ...comfortable, url: published.measures[0]?.url, version: published.measures[0]?.version },
      /a\.json: the address https:.* is used twice/,
    ],
  ])('%s', async (_, content, fault) => {
    const { faults } = await buildDefinitions(
      'measures',
      typeof content === 'string' ? content : siteFolder({ 'a.json': content }),
    )
    expect(faults).toEqual([expect.stringMatching(fault)])
  })
})

describe('a site’s own measure', () => {
  it('is built beside the published ones and answers', () => {
    const { status, lines, output } = runBuild(siteFolder({ 'comfortable.json': comfortable }))
    expect([status, lines]).toEqual([0, ['']])
    expect(readdirSync(output)).toEqual(['definitions.json'])
    const built = JSON.parse(readFileSync(join(output, 'definitions.json'), 'utf8')) as Definitions
    expect(built.measures.map(({ id }) => id)).toEqual([
      ...published.measures.map(({ id }) => id),
      'comfortable-examinations-site',
    ])
    expect(built.measures.at(-1)?.resource).toEqual(comfortable)

    const own = built.measures.at(-1)
    if (own === undefined) throw new Error('no measure was built')
    const measure = compileMeasure(own)
    const settlement = { day: 20_000, asOfDay: 20_100, pathologyLagDays: 60, eventLagDays: 0 }
    const answer = (record: Partial<Colonoscopy>) =>
      answerOf(
        measure,
        { procedure: 'p', source: 's', completionPhotographed: false, ...record } as Colonoscopy,
        settlement,
      ).code
    expect(answer({ comfortScale: 'one-to-five', comfortScore: 3, setting: 'outpatient' })).toBe('met')
    expect(answer({ comfortScale: 'one-to-five', comfortScore: 4, setting: 'outpatient' })).toBe('not-met')
    expect(answer({ comfortScale: 'one-to-five', comfortScore: 1, setting: 'emergency' })).toBe('excluded')
    expect(answer({ comfortScale: 'zero-to-four', comfortScore: 1 })).toBe('out')
    expect(answer({})).toBe('eligibility-not-recorded')
  })
})

describe('the logic of a published measure', () => {
  const file = 'Measure-withdrawal-time-us-2024.json'

  /** The measures in a folder of their own, one of them changed. */
  function changed(change: (text: string) => string): string {
    const folder = emptyFolder()
    cpSync('measures', folder, { recursive: true })
    const text = readFileSync(join(folder, file), 'utf8')
    expect(change(text)).not.toBe(text)
    writeFileSync(join(folder, file), change(text))
    return folder
  }

  it('is the one whose digest is committed', async () => {
    expect((await buildDefinitions('measures')).faults).toEqual([])
  })

  it('cannot change without a new version', async () => {
    const folder = changed((text) => text.replace(/("expression": ")/, '$1true and '))
    expect((await buildDefinitions(folder)).faults).toEqual([
      'withdrawal-time-us-2024 1.0.0: its logic changed: give it a new version',
    ])
    // Recording is for new versions: it does not wave a changed one through.
    expect((await buildDefinitions(folder, undefined, true)).faults).toHaveLength(1)
  })

  it('may have its words changed', async () => {
    const folder = changed((text) => text.replace(/"title": "[^"]*"/, '"title": "Time of withdrawal"'))
    expect((await buildDefinitions(folder)).faults).toEqual([])
  })

  it('takes a new version once its digest is recorded, beside the earlier one', async () => {
    const folder = changed((text) =>
      text.replace('"version": "1.0.0"', '"version": "1.1.0"').replace(/("expression": ")/, '$1true and '),
    )
    expect((await buildDefinitions(folder)).faults).toEqual([
      `withdrawal-time-us-2024 1.1.0: not in ${join(folder, 'digests.json')}: run npm run build -- --record`,
    ])
    const { faults, digests } = await buildDefinitions(folder, undefined, true)
    expect(faults).toEqual([])
    const versions = digests['withdrawal-time-us-2024'] ?? {}
    expect(Object.keys(versions)).toEqual(['1.0.0', '1.1.0'])
    expect(versions['1.1.0']).toMatch(/^[0-9a-f]{64}$/)
    expect(versions['1.1.0']).not.toBe(versions['1.0.0'])
  })
})

function criteriaOf({ group }: Measure): Record<string, string> {
  return Object.fromEntries(
    (group?.[0]?.population ?? []).map(({ code, criteria }) => [
      code?.coding?.[0]?.code ?? '',
      criteria.expression ?? '',
    ]),
  )
}

function doubled(measure: Measure): Measure {
  const population = measure.group?.[0]?.population ?? []
  return { ...measure, group: [{ population: [...population, ...population.slice(-1)] }] }
}

function inCql(measure: Measure): Measure {
  const population = measure.group?.[0]?.population ?? []
  return {
    ...measure,
    group: [
      {
        population: population.map((one, index) =>
          index < population.length - 1
            ? one
            : { ...one, criteria: { ...one.criteria, language: 'text/cql' as const } },
        ),
      },
    ],
  }
}
