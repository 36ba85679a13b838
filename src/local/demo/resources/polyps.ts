import type { FhirResource, Observation, ObservationComponent, Procedure } from 'fhir/r4'
import type { Plan } from '../plan.ts'
import type { TruthPolyp } from '../truth-row.ts'
import { concept, fact, quantity, refer, siteConcept } from './codes.ts'
import { moment } from './examination.ts'
import { observation } from './observations.ts'
import { specimenId } from './specimens.ts'

/** Polyps with what was done to each, and biopsies that were not taken from a polyp. */
export function writePolyps(plan: Plan): FhirResource[] {
  const told = plan.row.polyps.flatMap((polyp, position) => writePolyp(plan, polyp, position))
  const biopsies = plan.row.randomBiopsies > 0 ? [writeChild(plan, 'biopsies', '76164006')] : []
  return [...told, ...biopsies]
}

function writePolyp(plan: Plan, polyp: TruthPolyp, position: number): FhirResource[] {
  const name = `polyp-${position + 1}`
  const jar = plan.jars.findIndex(({ polyps }) => polyps.includes(position))
  // In one unit a removal is a procedure of its own that names the polyp; nothing is said of it at the polyp.
  const byProcedure = plan.unit.id === 'tarnhollow' && polyp.handling === 'removed'
  const retrievalKnown = jar >= 0 && (plan.unit.id === 'tarnhollow' || plan.form.variant < 20)
  const component: ObservationComponent[] = [
    ...(polyp.sizeMillimetres === undefined ? [] : [size(plan, polyp.sizeMillimetres)]),
    ...(polyp.handling === undefined || byProcedure ? [] : [part('polyp-handling', polyp.handling)]),
    ...(polyp.retrieval === undefined || retrievalKnown ? [] : [part('polyp-retrieval', polyp.retrieval)]),
  ]
  const code = plan.unit.id === 'quernford' ? fact('polyp') : concept('snomed', '399505005')
  const found: Observation = {
    ...observation(plan, name, code, {}, siteConcept(polyp.site, plan.unit.id === 'quernford')),
    ...(jar >= 0 && { specimen: refer('Specimen', specimenId(plan, jar)) }),
    ...(component.length > 0 && { component }),
  }
  if (!byProcedure) return [found]
  return [
    found,
    {
      ...writeChild(plan, `${name}-removal`, '274025005'),
      reasonReference: [refer('Observation', `${plan.key}-${name}`)],
    },
  ]
}

/** One unit writes centimetres. */
function size(plan: Plan, millimetres: number): ObservationComponent {
  const value = plan.unit.id === 'tarnhollow' ? quantity(millimetres / 10, 'cm') : quantity(millimetres, 'mm')
  return { code: concept('loinc', '33756-8'), valueQuantity: value }
}

const part = (code: string, value: string): ObservationComponent => ({
  code: fact(code),
  valueCodeableConcept: fact(value),
})

function writeChild(plan: Plan, name: string, snomed: string): Procedure {
  return {
    resourceType: 'Procedure',
    id: `${plan.key}-${name}`,
    partOf: [refer('Procedure', plan.key)],
    status: 'completed',
    code: concept('snomed', snomed),
    subject: refer('Patient', plan.patient.id),
    ...(plan.form.encounter && { encounter: refer('Encounter', `${plan.key}-encounter`) }),
    performedDateTime: moment(plan, plan.day, plan.minute + 12),
  }
}
