/**
 * Build step of start, test and deploy: reads `measures/` and an optional MEASURES_DIR, checks every criterion against the
 * logical model, and writes `build/definitions.json` for the worker. A measure whose logic changed without a new version
 * stops the build; `npm run build -- --record` adds the digest of a new version to the committed table.
 */
import { mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { FhirResource, Measure } from 'fhir/r4'
import { parseCriterion } from '../criteria/parse.ts'
import { fields } from '../linkage/fields.ts'
import type { Definitions } from '../measures/definitions.ts'
import { logicDigest } from '../measures/logic-digest.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { MeasureFault, readMeasure } from '../measures/read-measure.ts'

type DigestTable = Record<string, Record<string, string>>

const digestFile = 'measures/digests.json'
const faults: string[] = []

function readFolder(folder: string): { file: string; resource: FhirResource }[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.json') && name !== 'digests.json')
    .sort()
    .flatMap((name) => {
      const file = join(folder, name)
      try {
        return [{ file, resource: JSON.parse(readFileSync(file, 'utf8')) as FhirResource }]
      } catch (error) {
        faults.push(`${file}: not JSON: ${(error as Error).message}`)
        return []
      }
    })
}

function readMeasureFile(file: string, resource: Measure): MeasureDefinition[] {
  try {
    return [readMeasure(resource, (expression, want) => parseCriterion(expression, want, fields))]
  } catch (error) {
    if (!(error instanceof MeasureFault)) throw error
    faults.push(`${file}: ${error.where}: ${error.message}`)
    return []
  }
}

async function checkDigests(measures: readonly Measure[]): Promise<void> {
  const table = JSON.parse(readFileSync(digestFile, 'utf8')) as DigestTable
  const record = process.argv.includes('--record')
  for (const measure of measures) {
    const id = measure.id ?? ''
    const version = measure.version ?? ''
    const digest = await logicDigest(measure)
    const known = table[id]?.[version]
    if (known === undefined && record) table[id] = { ...table[id], [version]: digest }
    else if (known === undefined) faults.push(`${id} ${version}: not in ${digestFile}: run npm run build -- --record`)
    else if (known !== digest) faults.push(`${id} ${version}: its logic changed: give it a new version`)
  }
  if (record) writeFileSync(digestFile, `${JSON.stringify(table, null, 2)}\n`)
}

const own = readFolder('measures')
const sites = process.env.MEASURES_DIR ? readFolder(process.env.MEASURES_DIR) : []
const measures: MeasureDefinition[] = []
const resources: FhirResource[] = []
for (const { file, resource } of [...own, ...sites]) {
  if (resource.resourceType !== 'Measure') resources.push(resource)
  else
    for (const measure of readMeasureFile(file, resource)) {
      if (measures.some(({ id }) => id === measure.id)) faults.push(`${file}: the id ${measure.id} is used twice`)
      measures.push(measure)
    }
}
await checkDigests(own.map(({ resource }) => resource).filter((resource) => resource.resourceType === 'Measure'))

if (faults.length > 0) {
  console.error(`The measures cannot be built:\n${faults.map((fault) => `  ${fault}`).join('\n')}`)
  process.exitCode = 1
} else {
  mkdirSync('build', { recursive: true })
  const definitions: Definitions = { measures, resources }
  // Written beside and renamed: whoever reads it meanwhile never sees half of it.
  writeFileSync('build/definitions.json.new', JSON.stringify(definitions))
  renameSync('build/definitions.json.new', 'build/definitions.json')
}
