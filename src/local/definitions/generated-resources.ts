import type { CodeSystem, OperationDefinition, StructureDefinition, ValueSet } from 'fhir/r4'
import { evaluateOperation } from './evaluate-operation.ts'
import { extensionStructure } from './extension-structure.ts'
import { extensionDefinitions } from './extensions.ts'
import { logicalModel } from './logical-model.ts'
import { reportWordResources } from './report-words.ts'

/** Every artefact under `measures/` that is made from code; the committed files equal these. */
export function generatedResources(): (CodeSystem | OperationDefinition | StructureDefinition | ValueSet)[] {
  return [
    logicalModel(),
    ...extensionDefinitions.map(extensionStructure),
    ...reportWordResources(),
    evaluateOperation(),
  ]
}
