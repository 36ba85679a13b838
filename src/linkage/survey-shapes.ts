import { elementShapes } from '../fhir/element-shapes.ts'
import { shapeFaults } from '../fhir/shape-faults.ts'
import type { Resources } from './context.ts'
import type { Survey } from './survey.ts'

/** Takes down every element of a window's resources that is not of the shape in which it is read. */
export function surveyShapes(resources: Resources, survey: Survey): void {
  for (const untyped of resources.untyped) survey.misshapen('a resource without a type', untyped)
  for (const type of Object.keys(elementShapes))
    for (const resource of resources.ofType(type))
      for (const fault of shapeFaults(resource)) survey.misshapen(fault, resource)
}
