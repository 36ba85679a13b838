import type { CodeableConcept, FhirResource, Procedure, Reference } from 'fhir/r4'
import type { Plan } from '../plan.ts'
import { fact, refer } from './codes.ts'
import { term, unmappedTerms } from './local-terms.ts'

const kinds = ['adult-colonoscope', 'paediatric-colonoscope', 'cuff', 'cap'] as const

/** The devices of one unit, of which its procedures name the one that was used. */
export function writeDevices(): FhirResource[] {
  return kinds.map((kind) => ({ resourceType: 'Device', id: `device-${kind}`, type: fact(kind) }))
}

type Used = Pick<Procedure, 'usedCode' | 'usedReference' | 'focalDevice'>

/** What was used, as a unit says it: by codes, or by its devices. */
export function devicesOf({ unit, row, details }: Plan): Used {
  const isByDevice = unit.id === 'tarnhollow'
  const usedCode: CodeableConcept[] = row.attachmentKind ? [fact(row.attachmentKind)] : []
  const usedReference: Reference[] = []
  for (const instrument of details?.instruments ?? []) {
    const kind = `${instrument}-colonoscope`
    if (isByDevice) usedReference.push(refer('Device', `device-${kind}`))
    else usedCode.push(instrument === 'unmapped' ? { coding: [unmappedTerms.ultrathin] } : term(unit.id, kind))
  }
  if (row.dye === true && unit.id !== 'ellenby') usedCode.push(term(unit.id, 'dye'))
  if (row.computerAidedDetection === true && unit.id === 'quernford')
    usedCode.push(term(unit.id, 'computer-aided-detection'))
  const outcome = isByDevice ? details?.outcome : undefined
  const attachment = refer('Device', `device-${row.attachmentKind}`)
  return {
    ...(usedCode.length > 0 && { usedCode }),
    ...(usedReference.length > 0 && { usedReference }),
    ...(outcome && { focalDevice: [{ action: fact(outcome.outcome), manipulated: attachment }] }),
  }
}
