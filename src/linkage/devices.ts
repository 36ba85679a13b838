import { asObject, asObjects, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'

/** Something that was used in an examination, or done with a device. */
export interface UsedDevice {
  /** The procedure that tells it, and what the device is; of nothing where that is not told. */
  readonly told: Told
  /** What was done with it; absent where it was merely used. */
  readonly action: Meaning | undefined
  readonly element: 'Procedure.usedCode' | 'Procedure.usedReference' | 'Procedure.focalDevice'
}

const none: readonly UsedDevice[] = []

/** What the examination's procedures say was used: codes, devices by their type, and devices with what was done with them. */
export function devicesUsed(examination: Examination, reading: Reading): readonly UsedDevice[] {
  const { patient } = examination
  let devices: UsedDevice[] | undefined
  for (const procedure of examination.all) {
    const { usedCode, usedReference, focalDevice } = procedure
    if (usedCode === undefined && usedReference === undefined && focalDevice === undefined) continue
    devices ??= []
    for (const concept of asObjects(usedCode)) {
      const code = meaningOf(concept, 'Procedure.usedCode', patient, reading)
      devices.push({ told: toldBy(procedure, code), action: undefined, element: 'Procedure.usedCode' })
    }
    for (const reference of asObjects(usedReference)) {
      const code = typeOf(reference, 'Procedure.usedReference', procedure, patient, reading)
      devices.push({ told: toldBy(procedure, code), action: undefined, element: 'Procedure.usedReference' })
    }
    for (const { action, manipulated } of asObjects(focalDevice)) {
      const code = typeOf(manipulated, 'Procedure.focalDevice.manipulated', procedure, patient, reading)
      const done = meaningOf(action, 'Procedure.focalDevice.action', patient, reading)
      devices.push({ told: toldBy(procedure, code), action: done, element: 'Procedure.focalDevice' })
    }
  }
  return devices ?? none
}

const toldBy = (procedure: Json, code: Meaning): Told => ({
  resource: procedure,
  holder: procedure,
  code,
  rung: 'own element',
})

function meaningOf(concept: unknown, where: string, patient: string, { codes, survey }: Reading): Meaning {
  const meaning = codes.of(concept)
  if (meaning.fact === undefined && meaning.sets.size === 0 && meaning.words.size === 0)
    survey?.missed(where, concept, patient)
  return meaning
}

/** The type of a referenced Device; a drug or a substance, which may be used as well, is none. */
function typeOf(reference: unknown, element: string, procedure: Json, patient: string, reading: Reading): Meaning {
  const { resources, survey } = reading
  const key = referenceKey(reference)
  const isDevice = key?.startsWith('Device/') === true
  const device = isDevice ? resources.at(key) : undefined
  if (device === undefined && asObject(reference) !== undefined && (isDevice || key === undefined))
    survey?.deadEnd(element, procedure)
  return meaningOf(device?.type, 'Device.type', patient, reading)
}
