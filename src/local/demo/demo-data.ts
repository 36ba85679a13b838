import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { FhirResource } from 'fhir/r4'
import { generateDemo, toNdjson } from './generate.ts'

/** SHA-256 of the demo's resources as NDJSON: whoever changes the generator changes this line, and sees it. */
export const demoDigest = 'de54e63206fd3a128052ffbc09dbfe93cd351854fbcdc1cc45e77d3dc8f686da'

export const digestOf = (text: string): string => createHash('sha256').update(text).digest('hex')

/**
 * The demo's resources: from the cache when it holds exactly them, else generated and put there.
 *
 * @param cache folder that is not committed
 */
export function loadDemo(cache = '.cache'): FhirResource[] {
  const file = join(cache, `demo-${demoDigest.slice(0, 12)}.ndjson`)
  const text = readCached(file) ?? writeCached(file)
  return text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as FhirResource)
}

function readCached(file: string): string | undefined {
  try {
    const text = readFileSync(file, 'utf8')
    return digestOf(text) === demoDigest ? text : undefined
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined
    throw error
  }
}

function writeCached(file: string): string {
  const text = toNdjson(generateDemo().resources)
  if (digestOf(text) !== demoDigest)
    throw new Error('The demo generator no longer makes the data that its digest names')
  mkdirSync(dirname(file), { recursive: true })
  // Written beside and renamed, so that two starts at once never read half a file.
  const unfinished = `${file}.${process.pid}`
  writeFileSync(unfinished, text)
  renameSync(unfinished, file)
  return text
}
