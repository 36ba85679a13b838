import type { DiagnosticReport, FhirResource, Observation } from 'fhir/r4'
import type { Jar, Plan } from '../plan.ts'
import { coding, concept, histologyConcept, refer, unreadableHistology } from './codes.ts'
import { told } from './components.ts'
import { moment } from './moment.ts'
import { specimenId } from './specimens.ts'

type Status = 'preliminary' | 'final' | 'amended' | 'entered-in-error'
type NumberedJar = readonly [Jar, number]

interface Telling {
  readonly name: string
  readonly status: Status
  readonly day: number
  readonly jars: readonly NumberedJar[]
  /** What the results say; by default each jar's own class. */
  readonly says?: 'hyperplastic' | 'unreadable' | 'conventional-adenoma'
}

/** The pathology reports of one examination, in the form that its unit's laboratory gives them. */
export function writePathology(plan: Plan): FhirResource[] {
  const jars = plan.jars.map((jar, position) => [jar, position] as const)
  const { form, issuedDay: day } = plan.pathology
  const final: Telling = { name: 'pathology', status: 'final', day, jars }
  switch (form) {
    case 'none':
      return []
    case 'final':
    case 'after-as-of':
      return tell(plan, final)
    case 'amended':
      return tell(plan, { ...final, status: 'amended' })
    case 'unreadable':
      return tell(plan, { ...final, says: 'unreadable' })
    case 'preliminary-only':
      return tell(plan, { ...final, status: 'preliminary', says: 'hyperplastic' })
    case 'one-jar-outstanding':
      return tell(plan, { ...final, jars: jars.slice(0, -1) })
    case 'replaces-preliminary':
      return [
        ...tell(plan, {
          ...final,
          name: 'pathology-first',
          status: 'preliminary',
          day: plan.day + 1,
          says: 'hyperplastic',
        }),
        ...tell(plan, final),
      ]
    case 'beside-withdrawn':
      return [
        ...tell(plan, {
          ...final,
          name: 'pathology-withdrawn',
          status: 'entered-in-error',
          says: 'conventional-adenoma',
        }),
        ...tell(plan, final),
      ]
  }
}

function tell(plan: Plan, telling: Telling): FhirResource[] {
  const results = telling.jars.map((jar) => writeResult(plan, telling, jar))
  const { unit, key, form } = plan
  const report: DiagnosticReport = {
    resourceType: 'DiagnosticReport',
    id: `${key}-${telling.name}`,
    // An amended report keeps its id: only its newest version is held.
    meta: { versionId: telling.status === 'amended' ? '2' : '1' },
    ...(unit.id === 'quernford' && { basedOn: [refer('ServiceRequest', `${key}-order`)] }),
    status: telling.status,
    category: [{ coding: [coding('diagnosticService', 'SP')] }],
    code: concept('loinc', form.variant % 2 === 0 ? '11526-1' : '60567-5'),
    subject: refer('Patient', plan.patient.id),
    ...(unit.id === 'tarnhollow' && { encounter: refer('Encounter', `${key}-encounter`) }),
    effectiveDateTime: moment(plan, telling.day, 660),
    issued: moment(plan, telling.day, 690),
    ...(unit.id === 'ellenby' && {
      specimen: telling.jars.map(([, position]) => refer('Specimen', specimenId(plan, position))),
    }),
    result: results.map(({ id }) => refer('Observation', id ?? '')),
  }
  return [report, ...results]
}

/** One result per jar, however many polyps lie in it. */
function writeResult(plan: Plan, telling: Telling, [jar, position]: NumberedJar): Observation {
  const says = telling.says ?? jar.nature
  // What is said wrongly, or too early, says nothing further.
  const tissue = telling.says === undefined ? plan.details?.tissue?.[position] : undefined
  const component = told(plan.unit.id, 'dysplasia-grade', tissue?.dysplasia)
  return {
    resourceType: 'Observation',
    id: `${plan.key}-${telling.name}-result-${position + 1}`,
    status: telling.status,
    code: concept('loinc', '34574-4'),
    subject: refer('Patient', plan.patient.id),
    valueCodeableConcept:
      says === 'unreadable'
        ? unreadableHistology
        : histologyConcept(says, plan.unit.id === 'quernford', plan.form.variant + position, tissue),
    ...(plan.unit.id !== 'tarnhollow' && { specimen: refer('Specimen', specimenId(plan, position)) }),
    ...(component.length > 0 && { component }),
  }
}
