import { describe, expect, it } from 'vitest'
import { allImports, cycleIn, importsOf, reachableFrom, sourceFiles } from './imports.ts'

/**
 * Who may import whom, lowest first: the folders of `src/`, and each file that lies in `src/` itself. A row names only rows
 * above it, so nothing imports upward. The colonoscopy record is all that those after linkage know of linkage; only the
 * wiring report, which is about linkage, knows more.
 */
const mayUse: Readonly<Record<string, readonly string[]>> = {
  statistics: [],
  errors: [],
  fhir: [],
  record: [],
  config: ['record'],
  outcome: ['errors'],
  source: ['errors', 'fhir', 'record', 'config'],
  linkage: ['fhir', 'record', 'config'],
  wiring: ['fhir', 'record', 'config', 'linkage'],
  'wiring-request': [],
  criteria: ['record'],
  measures: ['fhir', 'record', 'criteria'],
  tally: ['statistics', 'fhir', 'record', 'config', 'measures'],
  report: ['fhir', 'measures', 'tally'],
  env: ['errors', 'fhir', 'config', 'source'],
  'evaluate-request': ['measures'],
  pages: [
    'statistics',
    'errors',
    'fhir',
    'record',
    'config',
    'outcome',
    'wiring',
    'measures',
    'tally',
    'report',
    'evaluate-request',
  ],
  months: ['fhir'],
  'as-of': ['errors', 'fhir'],
  evaluate: [
    'errors',
    'fhir',
    'config',
    'source',
    'linkage',
    'measures',
    'tally',
    'env',
    'evaluate-request',
    'months',
    'as-of',
  ],
  completeness: ['record', 'source', 'linkage', 'env', 'months', 'as-of', 'evaluate'],
  routes: [
    'errors',
    'fhir',
    'wiring',
    'wiring-request',
    'measures',
    'tally',
    'report',
    'env',
    'evaluate-request',
    'completeness',
  ],
  'survey-wiring': [
    'errors',
    'record',
    'config',
    'source',
    'linkage',
    'wiring',
    'wiring-request',
    'measures',
    'tally',
    'env',
    'months',
    'as-of',
    'evaluate',
  ],
  app: ['errors', 'outcome', 'env', 'pages', 'routes'],
  index: ['measures', 'evaluate', 'completeness', 'survey-wiring', 'app'],
  local: ['fhir', 'record', 'config', 'source', 'linkage', 'criteria', 'measures', 'tally', 'report', 'months'],
}

/** Packages that a part may use; `fhir/r4` is types only. What is absent uses none. */
const mayUsePackages: Readonly<Record<string, readonly string[]>> = {
  statistics: ['simple-statistics'],
  fhir: ['fhir/r4'],
  config: ['fhir/r4'],
  outcome: ['fhir/r4'],
  source: ['fhir/r4', 'fhir-kit-client', 'zod'],
  wiring: ['fhir/r4'],
  criteria: ['fhirpath'],
  measures: ['fhir/r4'],
  report: ['fhir/r4'],
  env: ['zod'],
  pages: ['fhir/r4', 'hono', 'hono/html', 'd3-scale'],
  routes: ['fhir/r4', 'hono', 'hono/factory'],
  app: ['hono', 'hono/body-limit'],
  local: ['fhir/r4', 'fhirpath'],
}

/** What the page may use of the report: how figures are written and said, not how a resource is made. */
const reportForPages = ['report/apart-in-words.ts', 'report/figure.ts', 'report/in-words.ts']

const partOf = (file: string): string => (file.split('/')[0] ?? '').replace(/\.tsx?$/, '')

const imports = allImports()
const within = imports.filter(({ to }) => /\.tsx?$/.test(to))
const packages = imports.filter(({ to }) => !/\.(tsx?|json)$/.test(to))
const told = ({ from, to }: { from: string; to: string }) => `${from} imports ${to}`

describe('imports', () => {
  it('are all found, whatever their form', () => {
    const text = `import a from 'a'
import type { B } from './b.ts'
import {
  type C,
  d,
} from '../d/d.ts'
import './effect.ts'
export { e } from './e.ts'
export type { F } from './f.ts'
import * as g from "g"
const later = await import('./h.ts')
`
    expect(importsOf('part/file.ts', text).map(({ to, typeOnly }) => [to, typeOnly])).toEqual([
      ['a', false],
      ['part/b.ts', true],
      ['d/d.ts', false],
      ['part/effect.ts', false],
      ['part/e.ts', false],
      ['part/f.ts', true],
      ['g', false],
      ['part/h.ts', false],
    ])
  })

  it('lead to files that exist', () => {
    const files = new Set(sourceFiles())
    expect(within.length).toBeGreaterThan(300)
    expect(within.filter(({ to }) => !files.has(to)).map(told)).toEqual([])
  })
})

describe('the table of parts', () => {
  it('names every part there is and no other', () => {
    expect([...new Set(sourceFiles().map(partOf))].sort()).toEqual(Object.keys(mayUse).sort())
  })

  it('lists only rows above, so that it has no cycle', () => {
    const rows = Object.keys(mayUse)
    for (const [part, used] of Object.entries(mayUse))
      expect(
        used.filter((one) => rows.indexOf(one) >= rows.indexOf(part)),
        part,
      ).toEqual([])
  })

  it('is kept by every import', () => {
    const upward = within.filter(({ from, to }) => {
      const [own, used] = [partOf(from), partOf(to)]
      return own !== used && !mayUse[own]?.includes(used)
    })
    expect(upward.map(told)).toEqual([])
  })

  it('promises nothing that is not used', () => {
    const used = new Set(within.map(({ from, to }) => `${partOf(from)} uses ${partOf(to)}`))
    const promised = Object.entries(mayUse).flatMap(([part, parts]) => parts.map((one) => `${part} uses ${one}`))
    expect(promised.filter((one) => !used.has(one))).toEqual([])
  })

  it('lets the page use of the report only how figures are said', () => {
    const used = within.filter(({ from, to }) => partOf(from) === 'pages' && partOf(to) === 'report')
    expect([...new Set(used.map(({ to }) => to))].sort()).toEqual(reportForPages)
  })
})

describe('files', () => {
  it('import each other without a cycle, types included', () => {
    expect(cycleIn(within)).toBeUndefined()
  })

  it('would be caught in a cycle', () => {
    const ring = ['a.ts', 'b.ts', 'c.ts'].map((from, index, all) => ({
      from,
      to: all[(index + 1) % all.length] ?? '',
      typeOnly: true,
    }))
    expect(cycleIn(ring)).toEqual(['a.ts', 'b.ts', 'c.ts', 'a.ts'])
    expect(cycleIn(ring.slice(0, 2))).toBeUndefined()
  })
})

describe('packages', () => {
  it('are used only by the parts that they are for', () => {
    const foreign = packages.filter(
      ({ from, to }) => !mayUsePackages[partOf(from)]?.includes(to) && !(isLocal(from) && to.startsWith('node:')),
    )
    expect(foreign.map(told)).toEqual([])
  })

  it('are imported as types only where they are nothing but types', () => {
    expect(packages.filter(({ to, typeOnly }) => to === 'fhir/r4' && !typeOnly).map(told)).toEqual([])
  })

  it('leave the parser of FHIRPath to the build step: one file of the criteria has it, and only parsing leads there', () => {
    const parsers = packages.filter(({ from, to }) => to === 'fhirpath' && !isLocal(from)).map(({ from }) => from)
    expect(parsers).toEqual(['criteria/syntax-tree.ts'])
    const leading = within.filter(({ to, typeOnly }) => parsers.includes(to) && !typeOnly)
    expect(leading.map(({ from }) => from)).toEqual(['criteria/parse.ts'])
  })
})

describe('the worker', () => {
  const reached = reachableFrom('index.ts', imports)

  it('runs everything from source to page', () => {
    for (const file of ['source/pull-window.ts', 'linkage/link.ts', 'criteria/compile.ts', 'tally/tally.ts'])
      expect(reached, file).toContain(file)
    for (const file of ['report/measure-report.ts', 'pages/pages.tsx']) expect(reached, file).toContain(file)
  })

  it('holds nothing of the local tools, of the runtime of Node, or of the build step', () => {
    const foreign = [...reached].filter(
      (one) => isLocal(one) || one.startsWith('node:') || one === 'fhirpath' || one === 'criteria/parse.ts',
    )
    expect(foreign).toEqual([])
  })

  it('and all that belongs to it imports nothing of the local tools, not even a type', () => {
    expect(within.filter(({ from, to }) => !isLocal(from) && isLocal(to)).map(told)).toEqual([])
  })

  it('imports no JSON but what the build step made', () => {
    const json = imports.filter(({ to }) => to.endsWith('.json')).map(told)
    expect(json).toEqual(['index.ts imports ../build/definitions.json'])
  })
})

function isLocal(file: string): boolean {
  return file.startsWith('local/')
}
