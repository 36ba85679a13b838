import { asObject, asObjects, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'
import type { Survey } from './survey.ts'

/** Something that was used in an examination, or done with a device. */
export interface UsedDevice {
  /** The procedure that tells it, and what the device is; of nothing where that is not told. */
  readonly told: Told
  /** What was done with it; absent where it was merely used. */
  readonly action: Meaning | undefined
  readonly element: 'Procedure.usedCode' | 'Procedure.usedReference' | 'Procedure.focalDevice'
}

const none: readonly UsedDevice[] = []

/**
 * What the examination's procedures say was used: codes, devices by their type, and devices with what was done with them.
 *
 * @param survey takes down what leads nowhere or means nothing; of several readers of one examination only one has it
 */
export function devicesUsed(
  examination: Examination,
  reading: Reading,
  survey: Survey | undefined,
): readonly UsedDevice[] {
  const { patient } = examination
  const known = (where: string, concept: unknown): Meaning => {
    const meaning = reading.codes.of(concept)
    if (meaning.fact === undefined && meaning.sets.size === 0 && meaning.words.size === 0)
      survey?.missed(where, concept, patient)
    return meaning
  }
  /** The type of a referenced Device; a drug or a substance, which may be used as well, is none. */
  const typeOf = (reference: unknown, element: string, procedure: Json): Meaning => {
    const key = referenceKey(reference)
    const isDevice = key?.startsWith('Device/') === true
    const device = isDevice ? reading.resources.at(key) : undefined
    if (device === undefined && asObject(reference) !== undefined && (isDevice || key === undefined))
      survey?.deadEnd(element, procedure)
    return known('Device.type', device?.type)
  }
  let devices: UsedDevice[] | undefined
  for (const procedure of examination.all) {
    const { usedCode, usedReference, focalDevice } = procedure
    if (usedCode === undefined && usedReference === undefined && focalDevice === undefined) continue
    devices ??= []
    const told = (code: Meaning): Told => ({ resource: procedure, holder: procedure, code, rung: 'own element' })
    for (const concept of asObjects(usedCode)) {
      const code = known('Procedure.usedCode', concept)
      devices.push({ told: told(code), action: undefined, element: 'Procedure.usedCode' })
    }
    for (const reference of asObjects(usedReference)) {
      const code = typeOf(reference, 'Procedure.usedReference', procedure)
      devices.push({ told: told(code), action: undefined, element: 'Procedure.usedReference' })
    }
    for (const { action, manipulated } of asObjects(focalDevice)) {
      const code = typeOf(manipulated, 'Procedure.focalDevice.manipulated', procedure)
      const done = known('Procedure.focalDevice.action', action)
      devices.push({ told: told(code), action: done, element: 'Procedure.focalDevice' })
    }
  }
  return devices ?? none
}
