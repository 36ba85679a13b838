import { elementShapes } from '../fhir/element-shapes.ts'
import { asObjects } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import { shapeFaults } from '../fhir/shape-faults.ts'
import type { Resources } from './context.ts'
import type { Survey } from './survey.ts'

/** Takes down every element of a window's resources that is not of the shape in which it is read, and copies that differ. */
export function surveyShapes(resources: Resources, survey: Survey): void {
  for (const one of resources.unread)
    survey.misshapen(
      one.resourceType === 'Bundle' ? 'Bundle within too many Bundles' : 'a resource without a type',
      one,
    )
  for (const type of Object.keys(elementShapes))
    for (const resource of resources.ofType(type)) {
      for (const fault of shapeFaults(resource)) survey.misshapen(fault, resource)
      if (resource.contained !== undefined)
        for (const inside of asObjects(resource.contained))
          for (const fault of shapeFaults(inside)) survey.misshapen(fault, resource)
    }
  for (const resource of resources.differing) survey.differing.add(ownKey(resource) ?? '')
}
