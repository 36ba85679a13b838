/** Writes the generated artefacts into `measures/`: run after `fields.ts` or the words of the reports have changed. */
import { writeFileSync } from 'node:fs'
import { generatedResources } from './generated-resources.ts'

for (const resource of generatedResources()) {
  const file = `measures/${resource.resourceType}-${resource.id}.json`
  writeFileSync(file, `${JSON.stringify(resource, null, 2)}\n`)
}
