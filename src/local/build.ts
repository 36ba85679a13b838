/**
 * Build step of start, test and deploy: reads `measures/` and an optional MEASURES_DIR, checks every criterion against the
 * logical model, and writes `definitions.json` for the worker into `build/` (or BUILD_DIR). A measure whose logic changed
 * without a new version stops the build; `npm run build -- --record` adds the digest of a new version to the committed table.
 */
import { mkdirSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { buildDefinitions, digestsName } from './build-definitions.ts'

const own = 'measures'
const folder = process.env.BUILD_DIR || 'build'
const record = process.argv.includes('--record')
const { definitions, faults, digests } = await buildDefinitions(own, process.env.MEASURES_DIR || undefined, record)

if (faults.length > 0) {
  console.error(`The measures cannot be built:\n${faults.map((fault) => `  ${fault}`).join('\n')}`)
  process.exitCode = 1
} else {
  if (record) writeFileSync(join(own, digestsName), `${JSON.stringify(digests, null, 2)}\n`)
  mkdirSync(folder, { recursive: true })
  const file = join(folder, 'definitions.json')
  // Written beside and renamed: whoever reads it meanwhile never sees half of it.
  writeFileSync(`${file}.new`, JSON.stringify(definitions))
  renameSync(`${file}.new`, file)
}
