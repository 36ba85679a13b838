import type { CodeableConcept, FhirResource, Observation, Reference } from 'fhir/r4'
import type { Plan } from '../plan.ts'
import type { TruthPreparation } from '../truth-row.ts'
import { coding, concept, fact, quantity, refer, siteConcept } from './codes.ts'
import { moment } from './moment.ts'
import { practitionerId, roleId } from './people.ts'

export type Value = Pick<
  Observation,
  'valueCodeableConcept' | 'valueQuantity' | 'valueInteger' | 'valueBoolean' | 'valueString' | 'valueDateTime'
>

/** An Observation that belongs to the examination's Procedure. */
export function observation(
  plan: Plan,
  name: string,
  code: CodeableConcept,
  value: Value,
  bodySite?: CodeableConcept,
): Observation {
  return {
    resourceType: 'Observation',
    id: `${plan.key}-${name}`,
    partOf: [refer('Procedure', plan.key)],
    status: plan.row.report === 'preliminary' ? 'preliminary' : 'final',
    category: [{ coding: [coding('observationCategory', 'procedure')] }],
    code,
    subject: refer('Patient', plan.patient.id),
    ...(plan.form.encounter && { encounter: refer('Encounter', `${plan.key}-encounter`) }),
    effectiveDateTime: moment(plan, plan.day, plan.minute),
    ...value,
    ...(bodySite && { bodySite }),
  }
}

/** Extent, landmarks, times, preparation, comfort, attachment and intent, each where it was recorded. */
export function writeObservations(plan: Plan): FhirResource[] {
  const { row, unit, form } = plan
  const said = (name: string, code: string, value: Value) => observation(plan, name, fact(code), value)
  const written: Observation[] = []
  if (row.intent === 'limited') written.push(said('intent', 'intent', { valueCodeableConcept: fact('limited') }))
  if (row.extent)
    written.push(
      said('extent', 'extent-reached', { valueCodeableConcept: siteConcept(row.extent, unit.id === 'quernford') }),
    )
  for (const landmark of row.photographs)
    written.push(said(`photo-${landmark}`, 'landmark-photograph', { valueCodeableConcept: fact(landmark) }))
  if (row.insertionMinutes !== undefined)
    written.push(said('insertion', 'insertion-time', minutes(plan, row.insertionMinutes)))
  if (row.withdrawalMinutes !== undefined)
    written.push(said('withdrawal', 'withdrawal-time', minutes(plan, row.withdrawalMinutes)))
  else if (form.withdrawalAsBound)
    written.push(said('withdrawal', 'withdrawal-time', { valueQuantity: { ...quantity(6, 'min'), comparator: '>=' } }))
  if (row.preparation) written.push(...writePreparation(plan, row.preparation))
  written.push(...writeComfort(plan))
  if (row.attachment)
    written.push(said('attachment', 'distal-attachment', { valueCodeableConcept: fact(row.attachment) }))
  return written
}

/** The score with who gave it: as a component, or as the performer. */
function writeComfort(plan: Plan): Observation[] {
  const { row, unit, details } = plan
  const scale = unit.id === 'tarnhollow' ? 'comfort-zero-to-four' : 'comfort-one-to-five'
  const scored = (name: string, score: number) => observation(plan, name, fact(scale), { valueInteger: score })
  if (details?.comfortOutOfScale !== undefined) return [scored('comfort', details.comfortOutOfScale)]
  if (row.comfort === undefined) return []
  const { comfortScorer: scorer } = row
  const score = scored('comfort', row.comfort)
  if (scorer === undefined) return [score]
  if (unit.id !== 'ellenby')
    return [{ ...score, performer: [scorer === 'patient' ? refer('Patient', plan.patient.id) : operator(plan)] }]
  const by = (who: string) => ({ component: [{ code: fact('comfort-scorer'), valueCodeableConcept: fact(who) }] })
  const second = details?.endoscopistComfort
  return [
    { ...score, ...by(scorer) },
    ...(second === undefined ? [] : [{ ...scored('comfort-endoscopist', second), ...by('endoscopist') }]),
  ]
}

function operator({ unit, person }: Plan): Reference {
  return unit.id === 'tarnhollow'
    ? refer('PractitionerRole', roleId(person.number))
    : refer('Practitioner', practitionerId(person.number, unit.id))
}

function minutes(plan: Plan, value: number): Value {
  if (plan.unit.id !== 'tarnhollow') return { valueQuantity: quantity(value, 'min') }
  return { valueQuantity: quantity(Math.round(value * 60), 's') }
}

const segmentSites = { left: '55572008', transverse: '485005', right: '51342009' } as const

function writePreparation(plan: Plan, preparation: TruthPreparation): Observation[] {
  if (preparation.kind === 'total')
    return [observation(plan, 'boston', concept('snomed', '722818007'), { valueInteger: preparation.total })]
  if (preparation.kind === 'level') {
    const level = concept('snomed', preparation.adequate ? '703141002' : '413261003')
    return [observation(plan, 'preparation', concept('snomed', '225106003'), { valueCodeableConcept: level })]
  }
  return (['left', 'transverse', 'right'] as const).flatMap((segment) => {
    const score = preparation[segment]
    if (score === undefined) return []
    const site = concept('snomed', segmentSites[segment])
    return [observation(plan, `boston-${segment}`, concept('snomed', '722819004'), { valueInteger: score }, site)]
  })
}
