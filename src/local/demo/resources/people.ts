import type { FhirResource } from 'fhir/r4'
import { anaesthetists, endoscopists, systems, units } from '../region.ts'
import { refer } from './codes.ts'

/** One person stands twice in the directory: once for each of two units. */
export const twiceInDirectory = 'HM-1105'

export const practitionerId = (number: string, unit: string): string =>
  number === twiceInDirectory && unit === 'tarnhollow' ? `practitioner-${number}-b` : `practitioner-${number}`
export const roleId = (number: string): string => `role-${number}`

/** Units as Organizations and Locations; endoscopists as Practitioners, in one unit through PractitionerRoles; anaesthetists. */
export function writePeople(): FhirResource[] {
  const places = units.flatMap((unit): FhirResource[] => [
    { resourceType: 'Organization', id: `org-${unit.id}`, name: unit.name },
    {
      resourceType: 'Location',
      id: `room-${unit.id}`,
      name: `${unit.name}, procedure room`,
      managingOrganization: refer('Organization', `org-${unit.id}`),
    },
  ])
  const people = endoscopists.flatMap((person) => {
    const homes = Object.keys(person.lists)
    const ids = [...new Set(homes.map((unit) => practitionerId(person.number, unit)))]
    const practitioners = ids.map(
      (id): FhirResource => ({
        resourceType: 'Practitioner',
        id,
        identifier: [{ system: systems.people, value: person.number }],
        name: [{ family: person.family, given: [person.given] }],
      }),
    )
    if (person.lists.tarnhollow === undefined) return practitioners
    const role: FhirResource = {
      resourceType: 'PractitionerRole',
      id: roleId(person.number),
      practitioner: refer('Practitioner', practitionerId(person.number, 'tarnhollow')),
      organization: refer('Organization', 'org-tarnhollow'),
    }
    return [...practitioners, role]
  })
  const others = anaesthetists.map(
    ({ number, given, family }): FhirResource => ({
      resourceType: 'Practitioner',
      id: practitionerId(number, 'ellenby'),
      identifier: [{ system: systems.people, value: number }],
      name: [{ family, given: [given] }],
    }),
  )
  return [...places, ...people, ...others]
}
