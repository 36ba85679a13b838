import type { CodeableConcept, FhirResource, Specimen } from 'fhir/r4'
import { biopsySiteOf } from '../details/biopsies.ts'
import type { Jar, Plan } from '../plan.ts'
import { concept, quantity, refer, siteConcept } from './codes.ts'
import { moment } from './moment.ts'

export const specimenId = (plan: Plan, jar: number): string => `${plan.key}-jar-${jar + 1}`

/** One Specimen per jar; in the unit with orders it names the order. */
export function writeSpecimens(plan: Plan): FhirResource[] {
  return plan.jars.map((jar, position): Specimen => {
    const bodySite = siteOf(plan, jar, position)
    const pieces = plan.details?.pieces?.[position]
    return {
      resourceType: 'Specimen',
      id: specimenId(plan, position),
      type: concept('snomed', '122645001'),
      subject: refer('Patient', plan.patient.id),
      ...(plan.unit.id === 'quernford' && { request: [refer('ServiceRequest', `${plan.key}-order`)] }),
      collection: {
        collectedDateTime: moment(plan, plan.day, plan.minute + 15),
        ...(bodySite && { bodySite }),
        ...(pieces !== undefined && { quantity: quantity(pieces, '1') }),
      },
    }
  })
}

/** Biopsies nearly always say where they are from; a polyp's jar often leaves that to the polyp. */
function siteOf(plan: Plan, { polyps: [first] }: Jar, position: number): CodeableConcept | undefined {
  if (first === undefined)
    return plan.details?.unsitedJars?.includes(position) ? undefined : siteConcept(biopsySiteOf(position), false)
  const polyp = plan.row.polyps[first]
  return polyp && plan.form.variant < 60 ? siteConcept(polyp.site, false) : undefined
}
