import type { CodeableConcept, FhirResource, MedicationAdministration } from 'fhir/r4'
import type { Dose, Drug } from '../details/details.ts'
import type { Plan } from '../plan.ts'
import { systems } from '../region.ts'
import { concept, fact, quantity, refer } from './codes.ts'
import { moment } from './moment.ts'

const atc: Readonly<Record<Drug, string>> = {
  midazolam: 'N05CD08',
  fentanyl: 'N01AH01',
  pethidine: 'N02AB02',
  propofol: 'N01AX10',
  'nitrous-oxide': 'N01AX13',
  antispasmodic: 'A03BB01',
  flumazenil: 'V03AB25',
  naloxone: 'V03AB15',
}
/** Substances of SNOMED CT; what has none here is said in words of the fact code system. */
const substances: Readonly<Partial<Record<Drug, string>>> = {
  midazolam: '373476007',
  fentanyl: '373492002',
  pethidine: '387298007',
  propofol: '387423006',
  naloxone: '372890007',
}
/** One unit's formulary; a ConceptMap of the demo's source translates it. */
export const localDrugs: Readonly<Record<Drug, string>> = {
  midazolam: 'MDZ',
  fentanyl: 'FEN',
  pethidine: 'PET',
  propofol: 'PPF',
  'nitrous-oxide': 'GAS',
  antispasmodic: 'ASP',
  flumazenil: 'FLU',
  naloxone: 'NAL',
}
const unmappedDrug = { system: systems.localFormulary, code: 'ASP-2', display: 'Antispasmodic, second brand' } as const

const drugs = Object.keys(atc) as Drug[]

/** The drugs of one unit as resources of their own, to which its administrations refer. */
export function writeDrugs(): FhirResource[] {
  return drugs.map((drug) => ({ resourceType: 'Medication', id: `drug-${drug}`, code: concept('atc', atc[drug]) }))
}

/** Every drug given for the examination. */
export function writeMedication(plan: Plan): MedicationAdministration[] {
  return (plan.details?.doses ?? []).map((dose, position): MedicationAdministration => {
    const { unit, form, key, day, patient } = plan
    // Within the examination's own day: a list may end just before midnight.
    const minute = Math.min(plan.minute + dose.after, 1439)
    return {
      resourceType: 'MedicationAdministration',
      id: `${key}-dose-${position + 1}`,
      ...(!form.encounter && { partOf: [refer('Procedure', key)] }),
      status: 'completed',
      ...(unit.id === 'tarnhollow'
        ? { medicationReference: refer('Medication', `drug-${dose.drug}`) }
        : { medicationCodeableConcept: drugConcept(plan, dose) }),
      subject: refer('Patient', patient.id),
      ...(form.encounter && { context: refer('Encounter', `${key}-encounter`) }),
      effectiveDateTime: moment(plan, day, minute),
      ...(dose.amount !== undefined && { dosage: { dose: doseQuantity(plan, dose, dose.amount) } }),
    }
  })
}

function drugConcept({ unit }: Plan, { drug, spoilt }: Dose): CodeableConcept {
  if (unit.id === 'quernford')
    return spoilt === 'unmapped' ? { coding: [unmappedDrug] } : concept('localFormulary', localDrugs[drug])
  const substance = substances[drug]
  if (substance !== undefined) return concept('snomed', substance)
  return drug === 'antispasmodic' ? concept('atc', atc[drug]) : fact(drug)
}

/** One unit writes everything in milligrams. */
function doseQuantity({ unit }: Plan, { drug, spoilt }: Dose, amount: number) {
  if (spoilt === 'volume') return quantity(2, 'mL')
  if (drug !== 'fentanyl') return quantity(amount, 'mg')
  return unit.id === 'tarnhollow' ? quantity(amount / 1000, 'mg') : quantity(amount, 'ug')
}
