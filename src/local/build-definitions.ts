import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { FhirResource, Measure } from 'fhir/r4'
import { parseCriterion } from '../criteria/parse.ts'
import type { Definitions } from '../measures/definitions.ts'
import { logicDigest } from '../measures/logic-digest.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { MeasureFault, readMeasure } from '../measures/read-measure.ts'
import { fields } from '../record/fields.ts'

/** Digest of the logic of every version of every measure of ours, by id and version. */
export type DigestTable = Readonly<Record<string, Readonly<Record<string, string>>>>

export const digestsName = 'digests.json'

export interface BuiltDefinitions {
  readonly definitions: Definitions
  /** Everything that stops the build, each with the file and, within a measure, the population. */
  readonly faults: readonly string[]
  /** The committed table, with the versions added that it did not have. */
  readonly digests: DigestTable
}

interface Found {
  readonly file: string
  readonly resource: FhirResource
}

/**
 * Reads every artefact of one or two folders and checks every criterion against the logical model.
 *
 * @param own folder of the measures of this project, with their table of digests
 * @param site folder of a site's own measures and codes
 * @param record whether versions that the table does not have are added to it; else they are faults
 */
export async function buildDefinitions(own: string, site?: string, record = false): Promise<BuiltDefinitions> {
  const faults: string[] = []
  const ours = readFolder(own, faults)
  const found = [...ours, ...(site === undefined ? [] : readFolder(site, faults))]
  const measures: MeasureDefinition[] = []
  const resources: FhirResource[] = []
  const files = new Map<string, string>()
  for (const { file, resource } of found) {
    for (const [what, name] of namesOf(resource)) {
      const other = files.get(name)
      if (other !== undefined) faults.push(`${file}: the ${what} ${name} is used twice: ${other} has it too`)
      else files.set(name, file)
    }
    if (resource.resourceType === 'Measure') measures.push(...readMeasureFile(file, resource, faults))
    else resources.push(resource)
  }
  const digests = await checkDigests(own, ours, record, faults)
  return { definitions: { measures, resources }, faults, digests }
}

/** What a resource is found by: its id among those of its type, and its canonical address with the version. */
function namesOf(resource: FhirResource): ['id' | 'address', string][] {
  const { resourceType, id } = resource
  const { url, version } = resource as { url?: string; version?: string }
  return [
    ['id', `${resourceType}/${id}`],
    ...(url === undefined ? [] : [['address', `${url}|${version}`] satisfies ['address', string]]),
  ]
}

function readFolder(folder: string, faults: string[]): Found[] {
  let names: string[]
  try {
    names = readdirSync(folder)
  } catch (error) {
    faults.push(`${folder}: the folder cannot be read: ${(error as Error).message}`)
    return []
  }
  return names
    .filter((name) => name.endsWith('.json') && name !== digestsName)
    .sort()
    .flatMap((name) => readResource(join(folder, name), faults))
}

function readResource(file: string, faults: string[]): Found[] {
  let json: unknown
  try {
    json = JSON.parse(readFileSync(file, 'utf8'))
  } catch (error) {
    faults.push(`${file}: not JSON: ${(error as Error).message}`)
    return []
  }
  const { resourceType, id } = (json ?? {}) as Partial<FhirResource>
  if (typeof resourceType === 'string' && typeof id === 'string') return [{ file, resource: json as FhirResource }]
  faults.push(`${file}: not a FHIR resource: resourceType and id are needed`)
  return []
}

function readMeasureFile(file: string, resource: Measure, faults: string[]): MeasureDefinition[] {
  try {
    return [readMeasure(resource, (expression, want) => parseCriterion(expression, want, fields))]
  } catch (error) {
    // Whatever else is thrown comes of elements that are not of the types that FHIR gives them.
    const where = error instanceof MeasureFault ? error.where : 'not a Measure as FHIR R4 defines it'
    faults.push(`${file}: ${where}: ${(error as Error).message}`)
    return []
  }
}

async function checkDigests(
  folder: string,
  found: readonly Found[],
  record: boolean,
  faults: string[],
): Promise<DigestTable> {
  const file = join(folder, digestsName)
  const table = JSON.parse(readFileSync(file, 'utf8')) as Record<string, Record<string, string>>
  for (const { resource } of found) {
    if (resource.resourceType !== 'Measure') continue
    const { id = '', version = '' } = resource
    const digest = await logicDigest(resource)
    const known = table[id]?.[version]
    if (known === undefined && record) table[id] = { ...table[id], [version]: digest }
    else if (known === undefined) faults.push(`${id} ${version}: not in ${file}: run npm run build -- --record`)
    else if (known !== digest) faults.push(`${id} ${version}: its logic changed: give it a new version`)
  }
  return table
}
