import type { CodeableConcept, FhirResource, Observation, ObservationComponent, Procedure } from 'fhir/r4'
import type { Plan } from '../plan.ts'
import type { TruthPolyp } from '../truth-row.ts'
import { concept, fact, quantity, refer, siteConcept } from './codes.ts'
import { told } from './components.ts'
import { moment } from './moment.ts'
import { observation } from './observations.ts'
import { specimenId } from './specimens.ts'

/** Polyps with what was done to each, lesions seen again, and biopsies that were not taken from a polyp. */
export function writePolyps(plan: Plan): FhirResource[] {
  const found = plan.row.polyps.flatMap((polyp, position) => writePolyp(plan, polyp, position))
  const biopsies = plan.row.randomBiopsies > 0 ? [writeChild(plan, 'biopsies', concept('snomed', '76164006'))] : []
  return [...found, ...writeKnownLesions(plan), ...biopsies]
}

function writePolyp(plan: Plan, polyp: TruthPolyp, position: number): FhirResource[] {
  const { unit } = plan
  const name = `polyp-${position + 1}`
  const jar = plan.jars.findIndex(({ polyps }) => polyps.includes(position))
  // In one unit a removal is a procedure of its own that names the polyp; nothing is said of it at the polyp.
  const byProcedure = plan.unit.id === 'tarnhollow' && polyp.handling === 'removed'
  const retrievalKnown = jar >= 0 && (plan.unit.id === 'tarnhollow' || plan.form.variant < 20)
  const component: ObservationComponent[] = [
    ...sizeOf(plan, polyp, position),
    ...(polyp.handling === undefined || byProcedure ? [] : [part('polyp-handling', polyp.handling)]),
    ...(polyp.retrieval === undefined || retrievalKnown ? [] : [part('polyp-retrieval', polyp.retrieval)]),
    ...told(unit.id, 'polyp-shape', polyp.shape),
    ...(byProcedure ? [] : told(unit.id, 'polyp-tool', polyp.tool)),
    ...told(unit.id, 'polyp-resection', polyp.resection),
    ...(byProcedure ? [] : told(unit.id, 'polyp-tattooed', polyp.tattooed)),
    ...told(unit.id, 'predicted-histology', polyp.predictedHistology),
    ...told(unit.id, 'polyp-suspected-cancer', polyp.suspectedCancer),
    ...told(unit.id, 'polyp-inaccessible', polyp.inaccessible),
    // That what was removed was attempted goes without saying.
    ...(polyp.handling === 'removed' ? [] : told(unit.id, 'polyp-removal-attempted', polyp.removalAttempted)),
    ...told(unit.id, 'polyp-sent-for-surgery', polyp.sentForSurgery),
    ...told(unit.id, 'polyp-clearance', polyp.clearance),
  ]
  const code = plan.unit.id === 'quernford' ? fact('polyp') : concept('snomed', '399505005')
  const found: Observation = {
    ...observation(plan, name, code, {}, siteConcept(polyp.site, plan.unit.id === 'quernford')),
    ...(jar >= 0 && { specimen: refer('Specimen', specimenId(plan, jar)) }),
    ...(component.length > 0 && { component }),
  }
  if (!byProcedure) return [found]
  const reasonReference = [refer('Observation', `${plan.key}-${name}`)]
  const removal: Procedure = {
    ...writeChild(plan, `${name}-removal`, concept('snomed', '274025005')),
    reasonReference,
    ...(polyp.tool && { usedCode: [fact(polyp.tool)] }),
  }
  const tattoo = { ...writeChild(plan, `${name}-tattoo`, fact('tattoo')), reasonReference }
  return [found, removal, ...(polyp.tattooed ? [tattoo] : [])]
}

/** A lesion that was known before: left for another day, or not found again. */
function writeKnownLesions(plan: Plan): Observation[] {
  const { details, unit } = plan
  return (details?.knownLesions ?? []).map(({ site, handling }, position) => ({
    ...observation(plan, `known-${position + 1}`, fact('polyp'), {}, siteConcept(site, unit.id === 'quernford')),
    component: [...told(unit.id, 'known-lesion-seen-again', true), part('polyp-handling', handling)],
  }))
}

/** One unit writes centimetres, or a word; in the others there may be no more than a bound. */
function sizeOf({ unit, details }: Plan, polyp: TruthPolyp, position: number): ObservationComponent[] {
  const code = concept('loinc', '33756-8')
  const { sizeMillimetres: millimetres, sizeAtMostMillimetres: atMost } = polyp
  const words = details?.sizeWords?.[position]
  if (words !== undefined) return [{ code, valueString: words }]
  if (atMost !== undefined) return [{ code, valueQuantity: { ...quantity(atMost, 'mm'), comparator: '<' } }]
  if (millimetres === undefined) return []
  return [
    { code, valueQuantity: unit.id === 'tarnhollow' ? quantity(millimetres / 10, 'cm') : quantity(millimetres, 'mm') },
  ]
}

const part = (code: string, value: string): ObservationComponent => ({
  code: fact(code),
  valueCodeableConcept: fact(value),
})

function writeChild(plan: Plan, name: string, code: CodeableConcept): Procedure {
  return {
    resourceType: 'Procedure',
    id: `${plan.key}-${name}`,
    partOf: [refer('Procedure', plan.key)],
    status: 'completed',
    code,
    subject: refer('Patient', plan.patient.id),
    ...(plan.form.encounter && { encounter: refer('Encounter', `${plan.key}-encounter`) }),
    performedDateTime: moment(plan, plan.day, plan.minute + 12),
  }
}
